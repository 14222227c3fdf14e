import type { NoiseName } from './noise-spectrum.js';
import type { Formants } from './tract.js';

/** What a stretch of the truth is. The first four are kinds of region; the rest should be left alone. */
export type PhoneKind =
  | 'sibilant'
  | 'fricative'
  | 'burst'
  | 'breath'
  | 'vowel'
  | 'sonorant'
  | 'closure'
  | 'silence';

/** The noise of a phone. */
export interface PhoneNoise {
  readonly name: NoiseName;
  /** RMS of the noise re RMS of the vowel that it leans on, in dB, where the song states no other. */
  readonly levelDb: number;
  readonly fadeInSeconds: number;
  readonly fadeOutSeconds: number;
  /** Fall of the level along the noise, in dB: a release dies away, a held s does not. */
  readonly fallDb: number;
}

/** How a phone is made. */
export interface Phone {
  readonly kind: PhoneKind;
  /** Usual length; vowels fill the time that consonants leave. */
  readonly seconds: number;
  /** Tract at the middle of the phone, for a scale of 1; a second setting is where a diphthong ends. */
  readonly formants: Formants;
  readonly glideTo?: Formants;
  /** Level of the voice re a vowel, in dB; absent where the folds are silent. */
  readonly voiceDb?: number;
  readonly noise?: PhoneNoise;
}

const vowel = (formants: Formants, glideTo?: Formants): Phone =>
  glideTo
    ? { kind: 'vowel', seconds: 0, formants, glideTo, voiceDb: 0 }
    : { kind: 'vowel', seconds: 0, formants, voiceDb: 0 };
const sonorant = (seconds: number, voiceDb: number, formants: Formants): Phone => ({
  kind: 'sonorant',
  seconds,
  formants,
  voiceDb,
});
const noise = (
  name: NoiseName,
  levelDb: number,
  fadeInSeconds: number,
  fadeOutSeconds: number,
  fallDb = 0,
): PhoneNoise => ({ name, levelDb, fadeInSeconds, fadeOutSeconds, fallDb });

const TEETH: Formants = [330, 1750, 2600, 3500];
const PALATE: Formants = [320, 1950, 2500, 3400];
const LIP: Formants = [330, 1100, 2300, 3300];
const SOFT_PALATE: Formants = [330, 1900, 2250, 3300];

/**
 * The phones of the song. Vowels are rounded from the averages for men of Peterson and Barney, JASA 24 (1952) 175
 * (from memory); lengths of consonants lie near van Santen (1993) and Zue (1976) (from notes on it), fades of s within the
 * 20–40 ms of running speech; the levels of s and sh span the −10 dB of Jongman et al. (2000) and the −3 dB of
 * Behrens and Blumstein (1988) (from notes on it).
 */
export const PHONES = {
  aa: vowel([710, 1100, 2450, 3400]),
  ae: vowel([650, 1700, 2420, 3450]),
  ah: vowel([630, 1200, 2400, 3400]),
  ao: vowel([570, 860, 2420, 3350]),
  ax: vowel([520, 1350, 2450, 3400]),
  ay: vowel([700, 1200, 2450, 3400], [400, 1950, 2600, 3500]),
  ey: vowel([500, 1850, 2500, 3500], [380, 2100, 2700, 3550]),
  ih: vowel([410, 1950, 2550, 3500]),
  iy: vowel([290, 2250, 2950, 3600]),
  uw: vowel([320, 950, 2250, 3300]),
  m: sonorant(0.07, -9, [270, 1000, 2200, 3200]),
  n: sonorant(0.065, -9, [270, 1500, 2400, 3300]),
  ng: sonorant(0.075, -9, [280, 1800, 2300, 3300]),
  l: sonorant(0.06, -4, [370, 1050, 2700, 3400]),
  r: sonorant(0.06, -4, [340, 1150, 1650, 3100]),
  w: sonorant(0.06, -5, [310, 700, 2200, 3200]),
  s: { kind: 'sibilant', seconds: 0.125, formants: TEETH, noise: noise('s', -7, 0.03, 0.024) },
  z: { kind: 'sibilant', seconds: 0.09, formants: TEETH, voiceDb: -15, noise: noise('s', -11, 0.03, 0.024) },
  sh: { kind: 'sibilant', seconds: 0.13, formants: PALATE, noise: noise('sh', -6, 0.034, 0.026) },
  ch: { kind: 'sibilant', seconds: 0.095, formants: PALATE, noise: noise('sh', -5, 0.004, 0.03, 4) },
  f: { kind: 'fricative', seconds: 0.11, formants: LIP, noise: noise('f', -17, 0.034, 0.026) },
  th: { kind: 'fricative', seconds: 0.1, formants: TEETH, noise: noise('th', -18, 0.034, 0.026) },
  dh: {
    kind: 'fricative',
    seconds: 0.045,
    formants: TEETH,
    voiceDb: -10,
    noise: noise('th', -24, 0.02, 0.016),
  },
  h: {
    kind: 'fricative',
    seconds: 0.075,
    formants: [520, 1300, 2450, 3400],
    noise: noise('h', -19, 0.03, 0.03),
  },
  t: { kind: 'burst', seconds: 0.036, formants: TEETH, noise: noise('t', -5, 0.001, 0.016, 14) },
  k: { kind: 'burst', seconds: 0.042, formants: SOFT_PALATE, noise: noise('k', -7, 0.001, 0.018, 13) },
  d: { kind: 'burst', seconds: 0.014, formants: TEETH, noise: noise('d', -13, 0.001, 0.006, 6) },
  br: {
    kind: 'breath',
    seconds: 0.45,
    formants: [520, 1350, 2450, 3400],
    noise: noise('breath', -25, 0.14, 0.1),
  },
  cl: { kind: 'closure', seconds: 0.05, formants: TEETH },
  bar: { kind: 'closure', seconds: 0.045, formants: [220, 1600, 2500, 3400], voiceDb: -20 },
  sil: { kind: 'silence', seconds: 0, formants: [520, 1350, 2450, 3400] },
} as const satisfies Readonly<Record<string, Phone>>;

export type PhoneLabel = keyof typeof PHONES;
