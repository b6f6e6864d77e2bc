// The pictures that have been drawn: kept by shape and content, so many pixels of them, those used last the longest.

type Picture = Pick<ImageBitmap, 'width' | 'height' | 'close'>

export interface Pictures<P extends Picture> {
  get(shape: string, content: string): P | undefined
  /** One picture more; the longest unused go. It is the cache's own from now on. */
  keep(shape: string, content: string, picture: P): void
  /** The contents of which there is a picture of a shape. */
  contentsOf(shape: string): string[]
  clear(): void
}

/** @param most pixels */
export function pictureCache<P extends Picture>(most: number): Pictures<P> {
  /** In the order of use. */
  const kept = new Map<string, { shape: string; content: string; picture: P }>()
  /** After an edit every line asks what there is of its shape. */
  const contents = new Map<string, Set<string>>()
  let total = 0
  const drop = (key: string) => {
    const { shape, content, picture } = kept.get(key)!
    kept.delete(key)
    const left = contents.get(shape)!
    left.delete(content)
    if (left.size === 0) contents.delete(shape)
    total -= picture.width * picture.height
    picture.close()
  }
  return {
    get(shape, content) {
      const key = `${content} ${shape}`
      const one = kept.get(key)
      if (one) {
        kept.delete(key)
        kept.set(key, one)
      }
      return one?.picture
    },
    keep(shape, content, picture) {
      const key = `${content} ${shape}`
      if (kept.has(key)) drop(key)
      kept.set(key, { shape, content, picture })
      const all = contents.get(shape)
      if (all) all.add(content)
      else contents.set(shape, new Set([content]))
      total += picture.width * picture.height
      for (const old of kept.keys()) {
        if (total <= most || old === key) break
        drop(old)
      }
    },
    contentsOf: shape => [...(contents.get(shape) ?? [])],
    clear() {
      for (const key of kept.keys()) drop(key)
    },
  }
}
