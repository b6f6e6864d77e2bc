// The output as a place of its own: the same panel with the whole page to itself.

import { useDocument } from '../document/document.ts'
import { Head } from '../Head.tsx'
import { OutputPanel } from './OutputPanel.tsx'

export default function OutputPage() {
  const rig = useDocument(s => s.rig)
  const show = useDocument(s => s.show)
  return (
    <div className="output-page">
      <Head />
      <h1>Output</h1>
      <h2 className="sr">Where the light goes</h2>
      {rig && show ? <OutputPanel rig={rig} show={show} /> : <p>Waiting for Glowchart to answer.</p>}
    </div>
  )
}
