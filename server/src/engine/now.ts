// The machine's monotonic clock in ms, the same in every thread and process of this machine.

// performance.now() counts from each thread's own start; hrtime counts from the machine's. The difference never changes.
const base = Number(process.hrtime.bigint()) / 1e6 - performance.now()

/** Ms of the machine's monotonic clock; allocates nothing. */
export const monotonicMs = (): number => base + performance.now()
