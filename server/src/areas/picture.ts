// What an area has to show as a picture: from the same facts and in the same words as its hover.
import type { Setup } from '../model/setup.ts'
import type { Picture } from '../picture/picture.ts'

/** Undefined where the setup has nothing of it. Never throws. */
export type AreaPicture = (setup: Setup) => Picture | undefined
