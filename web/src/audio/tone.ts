// Tone.js by its classes: its index would open an AudioContext of its own as it is loaded, beside the page's.

export * from 'tone/build/esm/classes.js'
export { getContext, setContext } from 'tone/build/esm/core/Global.js'
