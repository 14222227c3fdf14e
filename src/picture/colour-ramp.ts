/** One colour as red, green and blue, 0 to 255. */
export type Rgb = readonly [number, number, number];

// Where the ramp passes, as lightness, green–red and blue–yellow of the Oklab space: paper, sand, moss, deep sea, ink.
// The lightness steps are equal; only the hue is a matter of taste.
const ANCHORS: readonly (readonly [number, number, number])[] = [
  [0.985, 0.0, 0.006],
  [0.8, -0.028, 0.05],
  [0.615, -0.058, 0.012],
  [0.43, -0.03, -0.052],
  [0.245, 0.022, -0.05],
];

/**
 * The ramp of the spectrogram: paper for silence to ink for the loudest, even steps to the eye, and monotone in grey print.
 *
 * Straight lines between anchors of equally spaced lightness in Oklab, turned to sRGB.
 * Source: B. Ottosson, A perceptual color space for image processing (2020), matrices from memory; IEC 61966-2-1 (sRGB curve).
 *
 * @param steps how many colours, at least 2.
 * @returns `steps` colours, quiet to loud.
 */
export function colourRamp(steps: number): readonly Rgb[] {
  const ramp: Rgb[] = [];
  for (let i = 0; i < steps; i++) {
    const at = (i / (steps - 1)) * (ANCHORS.length - 1);
    const k = Math.min(Math.floor(at), ANCHORS.length - 2);
    const [l0, a0, b0] = ANCHORS[k] as readonly [number, number, number];
    const [l1, a1, b1] = ANCHORS[k + 1] as readonly [number, number, number];
    const t = at - k;
    ramp.push(oklabToRgb(l0 + (l1 - l0) * t, a0 + (a1 - a0) * t, b0 + (b1 - b0) * t));
  }
  return ramp;
}

function oklabToRgb(lightness: number, a: number, b: number): Rgb {
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    encode(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    encode(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    encode(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ];
}

function encode(linear: number): number {
  const v = Math.min(1, Math.max(0, linear));
  return Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055));
}
