// Before: the pictures of the chart in one list, which was searched whole for every line after every edit.

import type { Pictures } from '@glowchart/web/chart/roll/pictures.ts'

/** @param most pixels */
export function pictureCache<P extends ImageBitmap>(most: number): Pictures<P> {
  const kept = new Map<string, P>()
  let total = 0
  const drop = (key: string, picture: P) => {
    kept.delete(key)
    total -= picture.width * picture.height
    picture.close()
  }
  return {
    get(shape, content) {
      const key = `${content} ${shape}`
      const picture = kept.get(key)
      if (picture) {
        kept.delete(key)
        kept.set(key, picture)
      }
      return picture
    },
    keep(shape, content, picture) {
      const key = `${content} ${shape}`
      const before = kept.get(key)
      if (before) drop(key, before)
      kept.set(key, picture)
      total += picture.width * picture.height
      for (const [old, one] of kept) {
        if (total <= most || old === key) break
        drop(old, one)
      }
    },
    contentsOf(shape) {
      const end = ` ${shape}`
      return [...kept.keys()].filter(key => key.endsWith(end)).map(key => key.slice(0, -end.length))
    },
    clear() {
      for (const [key, picture] of kept) drop(key, picture)
    },
  }
}
