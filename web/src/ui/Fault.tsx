// Stands in for a place that could not be shown: the rest of the page goes on, and the place can be tried again.

import { Component, type ReactNode } from 'react'

interface Props {
  /** Before it is tried again. */
  onAgain: () => void
  children: ReactNode
}

export class Fault extends Component<Props, { hasFailed: boolean }> {
  override state = { hasFailed: false }

  static getDerivedStateFromError(): { hasFailed: boolean } {
    return { hasFailed: true }
  }

  override render(): ReactNode {
    if (!this.state.hasFailed) return this.props.children
    return (
      <section className="place-fault" role="alert">
        <p>
          <b>This place could not be shown.</b> The lights play on, and nothing is lost.
        </p>
        <p>
          <button
            type="button"
            className="btn go"
            onClick={() => {
              this.props.onAgain()
              this.setState({ hasFailed: false })
            }}
          >
            Try again
          </button>{' '}
          <a className="btn outline" href="#chart">
            Chart
          </a>{' '}
          <a className="btn outline" href="#run">
            Run
          </a>
        </p>
      </section>
    )
  }
}
