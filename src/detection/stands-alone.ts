import { FRAME_CLASSES } from './detection-scale.js';
import { EVENT_MARGIN_FRAMES } from './event-measures.js';
import type { FrameTables } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';

/** Whether no voice is near a stretch: in no frame within 107 ms of it is voice likelier than not. */
export function standsAlone({ track, rowCount }: FrameTables, part: NoiseSpan): boolean {
  const first = Math.max(0, part.start - EVENT_MARGIN_FRAMES);
  const end = Math.min(rowCount, part.end + EVENT_MARGIN_FRAMES);
  for (let t = first; t < end; t++) if ((track[t * FRAME_CLASSES.length] as number) > 0.5) return false;
  return true;
}
