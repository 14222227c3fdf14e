import { FRAME_CLASSES, INPUT_COUNT } from './detection-scale.js';
import { EVENT_MARGIN_FRAMES } from './event-measures.js';
import type { FrameTables } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';

/** Bands in which a voice has its partials: up to 1.65 kHz. */
const VOICE_BANDS = 6;
/** A voice stands within this of its own mean level in one of them, in tens of dB; what rings on in a room is softer. */
const LEAST_VOICE = -2;

/** Whether no voice is near a stretch: in no frame within 107 ms of it is voice likelier than not and as loud as this voice is. */
export function standsAlone({ track, inputs, rowCount }: FrameTables, part: NoiseSpan): boolean {
  const first = Math.max(0, part.start - EVENT_MARGIN_FRAMES);
  const end = Math.min(rowCount, part.end + EVENT_MARGIN_FRAMES);
  for (let t = first; t < end; t++) {
    if ((track[t * FRAME_CLASSES.length] as number) <= 0.5) continue;
    for (let band = 0; band < VOICE_BANDS; band++)
      if ((inputs[t * INPUT_COUNT + band] as number) > LEAST_VOICE) return false;
  }
  return true;
}
