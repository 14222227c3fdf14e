import { SINGERS, type Singer } from '../../lib/demo/singers.js';
import { TITLE } from '../../lib/demo/song.js';
import { renderTake } from '../../lib/demo/take.js';
import { pcmWav } from './pcm-wav.js';

const SAMPLE_RATE_HZ = 48000;
/** How far the harmonies stand below their own level, so that the lead leads. */
const BACKING_GAIN = 0.4;

/** The lead of the invented song, as a file like any other. */
export function builtInTake(): File {
  const { samples } = renderTake(SINGERS[0] as Singer, SAMPLE_RATE_HZ);
  const bytes = pcmWav(samples, SAMPLE_RATE_HZ);
  return new File([bytes], `${TITLE.toLowerCase().replaceAll(' ', '-')}.wav`);
}

/** Its other singers together, in one channel, at the same rate. */
export function builtInBacking(): { readonly name: string; readonly samples: Float32Array<ArrayBuffer> } {
  const takes = SINGERS.slice(1).map((singer) => renderTake(singer, SAMPLE_RATE_HZ).samples);
  const sum = new Float32Array(Math.max(...takes.map((take) => take.length)));
  for (const take of takes)
    for (let i = 0; i < take.length; i++) sum[i] = (sum[i] as number) + BACKING_GAIN * (take[i] as number);
  return { name: 'its harmonies', samples: sum };
}
