// Before: every frame was told to the pages.

import type { FrameNews } from '@glowchart/server/engine/frame-news.ts'

export const frameNews = (): FrameNews => ({ isNews: () => true, begin() {} })
