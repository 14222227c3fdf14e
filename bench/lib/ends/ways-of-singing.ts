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
      'Whispered vowels are noise, so they are found as breaths and consonants. Mark the esses by hand (`markRange`), or keep only kind sibilant at `minConfidence: 0.8` and go through what is left by ear.',
    change: (clip, random) => changedClip(clip, whisper(samplesOf(clip), clip.sampleRateHz, random)),
  },
  {
    name: 'whispered, bright',
    made: 'The same, the air 12 dB brighter above 1.5 kHz than the voice was and 12 dB softer, about as a real whisper is beside its esses (no source).',
    advice: 'As above.',
    change: (clip, random) =>
      changedClip(clip, whisper(samplesOf(clip), clip.sampleRateHz, random, { levelDb: -12, brightDb: 12 })),
  },
  {
    name: 'breathy',
    made: 'The whisper of a voice added to the voice, 6 dB softer.',
    advice:
      'Nothing to set. Listen to f and h, which a breathy voice hides; `minConfidence: 0.4` shows more of them.',
    change: (clip, random) =>
      changedClip(clip, breathy(samplesOf(clip), clip.sampleRateHz, random, { levelDb: -6, brightDb: 0 })),
  },
  {
    name: 'rap',
    made: `The clips ${RAP_TEMPO} times as fast, pitch and colour kept (overlapping pieces that fit one another), labels moved along.`,
    advice:
      'Short esses can be called bursts. Cut both kinds: `fixedCut(list, { kinds: ["sibilant", "burst"] })`. Fades are at most a third of a region, so they fit by themselves.',
    change: (clip) =>
      changedClip(clip, changeTempo(samplesOf(clip), clip.sampleRateHz, RAP_TEMPO), {
        timeScale: 1 / RAP_TEMPO,
      }),
  },
  {
    name: 'falsetto',
    made: 'The source of the voice an octave up, through the same tube.',
    advice:
      'Nothing to set. High notes have few partials above 4 kHz, and those are not taken for noise unless they are as strong as it.',
    change: (clip) => changedClip(clip, falsetto(samplesOf(clip), clip.sampleRateHz)),
  },
  {
    name: 'child',
    made: `The clips played ${CHILD_RATIO} times as fast: pitch, resonances and tempo rise together.`,
    advice:
      'An s rises to 8 kHz and more, where nothing is looked at; what reaches below 7.6 kHz decides. Try `minConfidence: 0.4` and step through the doubtful ones.',
    change: (clip) =>
      changedClip(clip, resample(samplesOf(clip), 13, 10), {
        timeScale: 1 / CHILD_RATIO,
      }),
  },
  {
    name: 'humming',
    made: 'Vowels, nasals and glides alone, nothing between them, and all of it below 500 Hz: every region is a mistake.',
    advice:
      'A part without words needs no treatment: leave it out. What is found in one is removed with `removeRegion`, or by a range (`regionsBetween`).',
    change: hummed,
  },
  {
    name: 'synthetic hum',
    made: 'Notes with vibrato, partials below 1 kHz and soft starts, and a hiss 60 dB down: every region is a mistake.',
    advice: 'As above.',
    change: (clip, random) =>
      changedClip(clip, syntheticHum(samplesOf(clip).length, clip.sampleRateHz, random), { labels: [] }),
  },
];
