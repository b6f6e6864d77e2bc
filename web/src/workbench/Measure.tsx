// A number with its unit, typed where it stands: Enter or leaving keeps it, Escape brings the old one back.

import { useEffect, useId, useRef, useState } from 'react'

interface Props {
  label: string
  unit?: string
  /** Undefined: nothing is filled in. */
  value: number | undefined
  least: number
  most: number
  /** Only whole numbers. */
  whole?: boolean
  /** What the text says, for values that are written in more than one way; null: nothing. */
  parse?: (text: string) => number | null
  /** The label is not seen: it stands at the head of a table. */
  bare?: boolean
  onChange: (value: number) => unknown
  /** May be left empty; called when it is. */
  onEmpty?: () => unknown
}

export const shownNumber = (value: number): string => String(Number(value.toPrecision(6)))

const plainNumber = (text: string): number | null => {
  const value = Number(text.replace(',', '.'))
  return text === '' || !Number.isFinite(value) ? null : value
}

export function Measure(props: Props) {
  const { label, unit, value, least, most, whole, parse = plainNumber, bare, onChange, onEmpty } = props
  const input = useRef<HTMLInputElement>(null)
  const [fault, setFault] = useState<string | null>(null)
  const faultId = useId()
  const shown = value === undefined ? '' : shownNumber(value)
  useEffect(() => {
    if (input.current) input.current.value = shown
    setFault(null)
  }, [shown])

  const finish = (text: string) => {
    if (text === shown) return setFault(null)
    if (text === '' && onEmpty) {
      setFault(null)
      return void onEmpty()
    }
    const to = parse(text)
    if (to === null || to < least || to > most || (whole && !Number.isInteger(to))) {
      return setFault(
        `${whole ? 'A whole number from' : 'From'} ${least} to ${most}${unit ? ` ${unit}` : ''}`,
      )
    }
    setFault(null)
    void onChange(to)
    // The same value written otherwise changes nothing, and is written as ever.
    if (to === value && input.current) input.current.value = shown
  }
  return (
    <label className={bare ? 'field measure bare' : 'field measure'}>
      <span className={bare ? 'sr' : undefined}>{label}</span>
      <span className="entry">
        <input
          ref={input}
          inputMode="decimal"
          aria-label={unit ? `${label}, ${unit}` : label}
          aria-invalid={fault !== null}
          aria-describedby={fault ? faultId : undefined}
          defaultValue={shown}
          autoComplete="off"
          spellCheck={false}
          onKeyDown={event => {
            if (event.key === 'Enter') finish(event.currentTarget.value.trim())
            else if (event.key === 'Escape') {
              event.currentTarget.value = shown
              setFault(null)
            } else return
            event.stopPropagation()
          }}
          onBlur={event => finish(event.target.value.trim())}
        />
        {unit && <i aria-hidden="true">{unit}</i>}
      </span>
      {fault && (
        <small id={faultId} className="fault" role="alert">
          {fault}
        </small>
      )}
    </label>
  )
}
