import { CATALAN, CZECH, ENGLISH, FINNISH, ITALIAN, RUSSIAN } from './sentences.js';

/** A voice of Debian's speech synthesiser, and what it is to say. */
export interface SpokenVoice {
  /** Name of its folder: the model card calls it so. */
  readonly folder: string;
  /** What the synthesiser calls it. */
  readonly voice: string;
  /** The Debian package that has it. */
  readonly debianPackage: string;
  readonly encoding: 'latin1' | 'latin2' | 'utf8';
  readonly sentences: readonly string[];
  /** How phones are written: see spoken-phones.ts. */
  readonly alphabet: 'general' | 'czech' | 'russian';
}

const general = (
  folder: string,
  voice: string,
  debianPackage: string,
  sentences: readonly string[],
): SpokenVoice => ({
  folder: `synth_${folder}`,
  voice,
  debianPackage,
  encoding: 'latin1',
  sentences,
  alphabet: 'general',
});

const czech = (name: string): SpokenVoice => ({
  ...general(name, `czech_${name}`, `festvox-czech-${name}`, CZECH),
  encoding: 'latin2',
  alphabet: 'czech',
});

/**
 * Thirteen people of six languages, recorded once and now spoken by rule: five women, seven men and a child. Each
 * sound comes from a recording of that person, so these are real mouths, in a joined-up order of our own choosing.
 */
export const SPOKEN_VOICES: readonly SpokenVoice[] = [
  general('kal', 'kal_diphone', 'festvox-kallpc16k', ENGLISH),
  general('ked', 'ked_diphone', 'festvox-kdlpc16k', ENGLISH),
  general('slt', 'cmu_us_slt_arctic_hts', 'festvox-us-slt-hts', ENGLISH),
  general('lp', 'lp_diphone', 'festvox-italp16k', ITALIAN),
  general('pc', 'pc_diphone', 'festvox-itapc16k', ITALIAN),
  czech('dita'),
  czech('krb'),
  czech('machac'),
  czech('ph'),
  general('mv', 'hy_fi_mv_diphone', 'festvox-suopuhe-mv', FINNISH),
  general('lj', 'suo_fi_lj_diphone', 'festvox-suopuhe-lj', FINNISH),
  general('ona', 'upc_ca_ona_hts', 'festvox-ca-ona-hts', CATALAN),
  {
    ...general('nsh', 'msu_ru_nsh_clunits', 'festvox-ru', RUSSIAN),
    encoding: 'utf8',
    alphabet: 'russian',
  },
];
