// Loaded before a drilled process (node --require): its time of day is shifted by what a file says, while it runs.

const { readFileSync } = require('node:fs')

const file = process.env.GLOWCHART_SHIFT
if (file) {
  const Real = Date
  let shift = 0
  class Shifted extends Real {
    constructor(...given) {
      if (given.length === 0) super(Real.now() + shift)
      else super(...given)
    }
    static now() {
      return Real.now() + shift
    }
  }
  globalThis.Date = Shifted
  setInterval(() => {
    try {
      shift = Number(readFileSync(file, 'utf8')) || 0
    } catch {
      // Nobody has shifted it yet.
    }
  }, 20).unref()
}
