/** A hum with one burst of hiss, from 1 s to 1.12 s of 2 s at 48 kHz: the least that is a voice and a consonant to the library. */
const START = 48000;
const END = 53760;

function makeClip() {
  let seed = 1;
  let last = 0;
  // The generator of "Numerical Recipes" (Press et al., RECALL); differencing lifts its white noise by 6 dB an octave.
  const hiss = () => {
    seed = (Math.imul(seed, 1664525) + 1013904223) | 0;
    const noise = seed / 2 ** 31;
    const lifted = noise - last;
    last = noise;
    return 0.1 * lifted;
  };
  const hum = (n) => 0.1 * [1, 2, 3, 4, 5].reduce((sum, k) => sum + Math.sin(0.02 * k * n) / k, 0);
  return Float32Array.from({ length: 96000 }, (_, n) => (n < START || n >= END ? hum(n) : hiss()));
}

module.exports = { START, END, makeClip };
