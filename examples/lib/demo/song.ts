/** One syllable: word (a hyphen joins it to the next), phones, length in beats, step of the scale from the key note. */
export type Syllable = readonly [text: string, phones: string, beats: number, step: number];

/** The title of the invented song. */
export const TITLE = 'Ash on the Wing';

/** Seconds per beat. */
export const BEAT_SECONDS = 0.62;

/** Beats between two lines, in which the singers breathe. */
export const REST_BEATS = 1.35;

/**
 * The song, ours in words and tune. A number after a phone is its level in dB re the vowel beside it: close to a bright
 * microphone some esses reach or pass the vowel, others stay soft, which is why one setting for all of them is wrong.
 */
export const LINES: readonly (readonly Syllable[])[] = [
  [
    ['Soft', 's-3 ao f t', 1, -2],
    ['as', 'ae z-10', 0.5, 0],
    ['a', 'ax', 0.5, 0],
    ['stitch,', 's+1 t ih ch-3', 0.9, 2],
    ['the', 'dh ax', 0.45, 1],
    ['tide', 't ay d', 0.75, 3],
    ['comes', 'k ah m z-12', 0.75, 1],
    ['in,', 'ih n', 1.35, 0],
  ],
  [
    ["she's", 'sh-1 iy z-9', 0.75, 2],
    ['chas-', 'ch+1 ey', 0.75, 4],
    ['ing', 's-6 ih ng', 0.6, 2],
    ['frost', 'f r ao s-4 t', 0.8, 3],
    ['a-', 'ax', 0.45, 2],
    ['cross', 'k r ao s+2', 0.75, 1],
    ['my', 'm ay', 0.55, 0],
    ['skin;', 's-8 k ih n', 1.4, -1],
  ],
  [
    ['such', 's0 ah ch-5', 0.8, 0],
    ['a', 'ax', 0.45, 0],
    ['short,', 'sh-4 ao t', 0.75, 2],
    ['sweet', 's+3 w iy t', 1, 4],
    ['song', 's-7 aa ng', 0.75, 3],
    ['to', 't uw', 0.6, 1],
    ['sing:', 's-2 ih ng', 1.5, 2],
  ],
  [
    ['hush,', 'h ah sh+1', 1, 2],
    ['the', 'dh ax', 0.5, 1],
    ['ash', 'ae sh-6', 0.75, 3],
    ['is', 'ih z-11', 0.75, 2],
    ['on', 'aa n', 0.5, 0],
    ['the', 'dh ax', 0.5, -1],
    ['wing.', 'w ih ng', 2.4, 0],
  ],
];

/** The words as a listener would write them. */
export const WORDS: string = LINES.map((line) =>
  line
    .map(([text]) => text)
    .join(' ')
    .replaceAll('- ', ''),
).join('\n');
