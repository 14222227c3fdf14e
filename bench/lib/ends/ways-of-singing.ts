import { resample } from '../../../test/lib/resample.js';
import type { LabelledClip } from '../corpus.js';
import { changeTempo } from './change-tempo.js';
import { changedClip } from './changed-clip.js';
import type { EndCondition } from './end-condition.js';
import { falsetto } from './falsetto.js';
import { hummed, syntheticHum } from './humming.js';
import { breathy, whisper } from './whisper.js';

const samplesOf = (clip: LabelledClip): Float32Array => clip.channels[0] as Float32Array;

/** How much faster the rap and the child are. */
const RAP_TEMPO = 1.6;
const CHILD_RATIO = 1.3;

/** Other ways to sing and speak. */
export const WAYS_OF_SINGING: readonly EndCondition[] = [
  {
    name: 'whispered',
    made: 'Linear prediction of every 24 ms; where the sound was voice, noise of the same strength drives the same tube. Esses stay as they are.',
    advice:
      'Nothing to set. A vowel of air is as dull as one of voice, and what is dull is taken for no consonant; what is found beside the esses are mostly fricatives and bursts, which stay as they are unless asked for.',
    change: (clip, random) => changedClip(clip, whisper(samplesOf(clip), clip.sampleRateHz, random)),
  },
  {
    name: 'whispered, bright',
    made: 'The same, the air 12 dB brighter above 1.5 kHz than the voice was and 12 dB softer, about as a real whisper is beside its esses (no source).',
    advice:
      'Nothing to set for esses. Releases of t and k stand out less beside bright air: look for missed ones first if you cut bursts.',
    change: (clip, random) =>
      changedClip(clip, whisper(samplesOf(clip), clip.sampleRateHz, random, { levelDb: -12, brightDb: 12 })),
  },
  {
    name: 'breathy',
    made: 'The whisper of a voice added to the voice, 6 dB softer.',
    advice: 'Nothing to set.',
    change: (clip, random) =>
      changedClip(clip, breathy(samplesOf(clip), clip.sampleRateHz, random, { levelDb: -6, brightDb: 0 })),
  },
  {
    name: 'rap',
    made: `The clips ${RAP_TEMPO} times as fast, pitch and colour kept (overlapping pieces that fit one another), labels moved along.`,
    advice:
      'What is missed as a sibilant is found nearly always, as a burst: an s under 60 ms is hard to tell from a t. Cut both kinds, `fixedCut(list, { kinds: ["sibilant", "burst"] })`. Fades are at most a third of a region, so they fit by themselves.',
    change: (clip) =>
      changedClip(clip, changeTempo(samplesOf(clip), clip.sampleRateHz, RAP_TEMPO), {
        timeScale: 1 / RAP_TEMPO,
      }),
  },
  {
    name: 'falsetto',
    made: 'The source of the voice an octave up, through the same tube.',
    advice:
      'Seen in pictures: where a high note begins or ends, its partials lie so far apart that their edge looks like a burst or a fricative; and a long s between two high notes was called a burst, its region only its first 16 ms. Cut sibilants alone, listen to the starts of notes, and draw what is missed with `markRange`.',
    change: (clip) => changedClip(clip, falsetto(samplesOf(clip), clip.sampleRateHz)),
  },
  {
    name: 'child',
    made: `The clips played ${CHILD_RATIO} times as fast: pitch, resonances and tempo rise together.`,
    advice:
      'Nothing is looked at above 7.6 kHz, where much of a child’s s lies. What is missed as a sibilant is mostly found as another kind: cut fricatives and bursts as well, or mark what hurts with `markRange`.',
    change: (clip) =>
      changedClip(clip, resample(samplesOf(clip), 13, 10), {
        timeScale: 1 / CHILD_RATIO,
      }),
  },
  {
    name: 'humming',
    made: 'Vowels, nasals and glides alone, nothing between them, and all of it below 500 Hz: every region is a mistake.',
    advice:
      'Seen in pictures: bursts where a note ends, because the steady hiss above it is then all that is left. They stay as they are unless you cut bursts; else leave hummed parts out, or remove what was found there (`regionsBetween`, `removeRegion`).',
    change: hummed,
  },
  {
    name: 'synthetic hum',
    made: 'Notes with vibrato, partials below 1 kHz and soft starts, and a hiss 60 dB down: every region is a mistake.',
    advice: 'Nothing to set: what does not rise over the hiss above 3 kHz is taken for no consonant.',
    change: (clip, random) =>
      changedClip(clip, syntheticHum(samplesOf(clip).length, clip.sampleRateHz, random), { labels: [] }),
  },
];
