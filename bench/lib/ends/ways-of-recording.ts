import { resample } from '../../../test/lib/resample.js';
import type { LabelledClip } from '../corpus.js';
import { changedClip, withAdded } from './changed-clip.js';
import { clipped, levelJumps, silentPauses } from './edits.js';
import type { EndCondition } from './end-condition.js';
import { hiHatStrokes } from './hi-hat-strokes.js';
import { popThumps } from './pop-thumps.js';
import { inRoom } from './room.js';
import { hiss, mainsHum } from './steady-noise.js';
import { voiceRms } from './voice-level.js';

const samplesOf = (clip: LabelledClip): Float32Array => clip.channels[0] as Float32Array;
const lengthOf = (clip: LabelledClip): number => samplesOf(clip).length;

/** A narrow recording's rate. */
const NARROW_HZ = 8000;

const hiHat = (belowDb: number, advice: string): EndCondition => ({
  name: `hi-hat, ${belowDb} dB down`,
  made: `Strokes of noise above 6 kHz at eighths of 120 beats a minute, each ${belowDb} dB below the voice.`,
  advice,
  change: (clip, random) =>
    withAdded(clip, hiHatStrokes(lengthOf(clip), clip.sampleRateHz, random), voiceRms(clip), -belowDb),
});

const humAndHiss = (belowDb: number, advice: string): EndCondition => ({
  name: `hum and hiss, ${belowDb} dB down`,
  made: `Hum of 50 Hz and its harmonics and white noise, each ${belowDb} dB below the voice all the time.`,
  advice,
  change: (clip, random) => {
    const rms = voiceRms(clip);
    const withHum = withAdded(clip, mainsHum(lengthOf(clip), clip.sampleRateHz), rms, -belowDb);
    return withAdded(withHum, hiss(lengthOf(clip), random), rms, -belowDb);
  },
});

/** What a microphone, a room and an editor can do. */
export const WAYS_OF_RECORDING: readonly EndCondition[] = [
  hiHat(
    20,
    'Seen in pictures: strokes on vowels are rarely found; in closures and at the ends of words they are called sibilants, above all at 16 kHz, where all that is left of a stroke lies in the bands that are looked at. Strokes repeat in time: listen to regions on the beat, and remove them (`removeRegion`).',
  ),
  hiHat(30, 'As above, and less of it.'),
  {
    name: 'pop thumps',
    made: 'Decaying tones of 50 to 90 Hz, as loud as the voice, every two seconds at a place of chance and before every p.',
    advice: 'Nothing to set: below 80 Hz nothing is looked at. `findThumps` finds the thumps themselves.',
    change: (clip, random) => withAdded(clip, popThumps(clip, random), voiceRms(clip), 3),
  },
  {
    name: 'clipped',
    made: 'Driven 12 dB past full scale and cut off there.',
    advice:
      'Little to set: distortion makes vowels brighter and releases less distinct. Mend the take first if you can, since what is clipped stays clipped, only softer.',
    change: (clip) => changedClip(clip, clipped(samplesOf(clip), 12)),
  },
  {
    name: 'narrow band',
    made: 'Sampled 8,000 times a second, so that nothing is left above 4 kHz.',
    advice:
      '`bandwidthWarnings` says so. Seen in pictures: an s has little below 4 kHz, and what is left of it looks like an f, so most are found as fricatives. Cut both kinds; confidences are lowered by a tenth here, so `minConfidence: 0.7` finds what 0.8 finds elsewhere.',
    change: (clip) =>
      changedClip(clip, resample(samplesOf(clip), clip.sampleRateHz, NARROW_HZ), { sampleRateHz: NARROW_HZ }),
  },
  {
    name: 'small room',
    made: 'Noise that falls by 60 dB in 0.4 s behind everything, together 6 dB softer than the voice.',
    advice:
      'Releases of t and k drown first. Ends come late where the room goes on hissing: move them with `nudgeEdges`, or let them be, since what rings is a part of the s.',
    change: (clip, random) =>
      changedClip(
        clip,
        inRoom(samplesOf(clip), clip.sampleRateHz, random, { decaySeconds: 0.4, tailDb: -6 }),
      ),
  },
  humAndHiss(
    20,
    'A hiss this strong hides soft esses and the ends of loud ones. Find on a cleaned copy and put the regions on the original: they are counts of samples.',
  ),
  humAndHiss(30, 'As above, and less of it.'),
  humAndHiss(40, 'Nothing to do.'),
  {
    name: 'digital silence',
    made: 'Every labelled pause of 0.1 s and more set to zero, from one sample to the next.',
    advice:
      'Nothing to set. A pause that is cut hard into a word leaves an edge that looks like a burst: fade the edits.',
    change: silentPauses,
  },
  {
    name: 'level jumps',
    joined: true,
    made: 'The clips of a folder as one recording, every second phrase 20 dB louder, the gain jumping in the middle of the pause.',
    advice:
      'References look back 6 s and ahead 1.9 s, so soft words near a loud phrase are judged against its level, and their esses seem to be none. Even the phrases out first, or find phrase by phrase and put the regions together.',
    change: (clip) => levelJumps(clip, 20),
  },
];

/** The joined recordings as they are, which level jumps are held against. */
export const JOINED: EndCondition = {
  name: 'joined, unchanged',
  joined: true,
  made: 'The clips of a folder one after another as one recording.',
  advice: '',
  change: (clip) => clip,
};
