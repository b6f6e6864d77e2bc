// What the chart's bench watches from inside a page: frames, long tasks, canvases drawn, and what comes over the socket.

interface Bench {
  begin(): void
  end(): { frames: number[]; longest: number }
  nextFrame(): Promise<void>
  /** No roll has been drawn and no edit waited for a while. */
  isQuiet(): boolean
  /** The next key is the edit to time. */
  armEdit(): void
  /** Ms from that key until its roll was on the screen, until it was acknowledged, until a frame was rendered with it. */
  edited(): Promise<{ drawn: number; saved: number; lit: number }>
}

declare global {
  interface Window {
    bench: Bench
  }
}

/** Runs in the page, before its own scripts. */
export function watchChart(): void {
  const QUIET = 1500
  const GIVEN_UP = 60_000
  let frames: number[] = []
  let tasks: number[] = []
  let running = 0
  let touched = performance.now()
  new PerformanceObserver(list => {
    for (const { duration } of list.getEntries()) tasks.push(duration)
  }).observe({ type: 'longtask' })

  let edit: { at: number; drawn?: number; saved?: number; revision?: number; lit?: number } | null = null
  let armed = false
  addEventListener(
    'keydown',
    event => {
      if (!armed || event.key === 'Shift') return
      armed = false
      edit = { at: event.timeStamp }
    },
    true,
  )

  const draw = CanvasRenderingContext2D.prototype.drawImage
  CanvasRenderingContext2D.prototype.drawImage = function (
    this: CanvasRenderingContext2D,
    ...args: unknown[]
  ) {
    Reflect.apply(draw, this, args)
    if (!this.canvas.classList.contains('roll')) return
    touched = performance.now()
    const one = edit
    // Two frames on it has been painted for sure; the first callback is before that paint.
    if (one && one.drawn === undefined) {
      requestAnimationFrame(() => {
        one.drawn ??= performance.now() - one.at
      })
    }
  } as typeof draw

  const Native = WebSocket
  window.WebSocket = class extends Native {
    constructor(url: string | URL) {
      super(url)
      this.addEventListener('message', ({ data }) => {
        if (!edit || typeof data !== 'string') return
        const message = JSON.parse(data)
        if (message.type === 'done' && typeof message.revision === 'number') {
          edit.saved ??= performance.now() - edit.at
          edit.revision ??= message.revision
          touched = performance.now()
        }
        // The status that tells a revision is sent with the first frame rendered with it.
        if (
          message.type === 'status' &&
          edit.revision !== undefined &&
          message.status?.revision >= edit.revision
        ) {
          edit.lit ??= performance.now() - edit.at
        }
      })
    }
  }

  window.bench = {
    begin() {
      frames = []
      tasks = []
      const mine = ++running
      let last = 0
      const step = (now: number) => {
        if (mine !== running) return
        if (last > 0) frames.push(now - last)
        last = now
        requestAnimationFrame(step)
      }
      requestAnimationFrame(step)
    },
    end() {
      running++
      return { frames, longest: Math.max(0, ...tasks) }
    },
    nextFrame: () => new Promise(resolve => requestAnimationFrame(() => resolve())),
    isQuiet: () => performance.now() - touched > QUIET,
    armEdit() {
      armed = true
    },
    edited: () =>
      new Promise((resolve, reject) => {
        const look = () => {
          if (!edit || performance.now() - edit.at > GIVEN_UP) {
            return reject(new Error(`The edit was not seen through: ${JSON.stringify(edit)}`))
          }
          const { drawn, saved, lit } = edit
          if (drawn === undefined || saved === undefined || lit === undefined) setTimeout(look, 5)
          else resolve({ drawn, saved, lit })
        }
        look()
      }),
  }
}
