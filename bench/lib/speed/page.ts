/** What one run measured, as Markdown. */
export interface SpeedReport {
  readonly machine: string;
  readonly goals: string;
  readonly growth: string;
  readonly functions: string;
  /** Further lines, each a paragraph. */
  readonly lines: readonly string[];
}

/** The report as it is printed and as it stands in the page. */
export function reportText({ machine, goals, growth, functions, lines }: SpeedReport): string {
  return [
    `Machine: ${machine}`,
    goals,
    ...lines,
    '## How the time grows',
    growth,
    'Sizes and times stand in the same order. The exponent is the slope in a plot of logarithms: 1 is proportional, 2 would be the square. Above 1.25 the command fails.',
    '## Single functions',
    'By benchmark.js, on the clock; what else runs on the machine slows these, unlike the figures above.',
    functions,
  ].join('\n\n');
}

/** docs/performance.md: the report between what does not change. */
export function performancePage(report: SpeedReport): string {
  return `# Performance

<!-- Written by npm run bench:speed -- --write docs/performance.md; the words are in bench/lib/speed/page.ts. -->

${HOW}

## Figures

${reportText(report)}

${REST}`;
}

const HOW = `The figures are ratios of processor time: both pieces of work run in turns in one process, so that a slow or busy machine slows both.
Each is the median over rounds, and half of the rounds lie in the middle half. Before the rounds, finding runs for three seconds: a process
that has just begun compiles its functions meanwhile, and finding costs up to twice as much in its first second. Where finding falls short
it is measured up to three times, and the line below the table says so. The raw transforms are fft.js by itself, one transform of
1024 real samples for every 256 samples of sound at 48 kHz; nothing that looks at spectra that often can do without them.

\`\`\`sh
npm run bench:speed               # the figures; fails where one falls short of its reach
npm run bench:speed -- --short    # a minute, fails where a ratio grew by a third, three times in a row
npm run bench:speed -- --help
\`\`\``;

const REST = `## A faster engine

\`\`\`ts
import { detectConsonants } from 'lenition';
import { simdEngine } from 'lenition/simd';

const engine = simdEngine();
engine.problem; // => null
const take = new Float32Array(48000);
detectConsonants(take, { sampleRateHz: 48000, engine }).regions.length; // => 0
\`\`\`

An engine does the inner loops of \`detectConsonants\`, \`createConsonantDetector\` and \`analyse\` in WebAssembly with vectors, in about two thirds of the time. Make one for the program or
the worker and hand it to every call. Kinds and edges of regions are the same with it and without, confidences and features to 1e-9. It is
apart from the main entry since it adds 11 kB (gzipped) and compiles a module of 5 kB, which a page may only do where its content security policy
has \`'wasm-unsafe-eval'\` (workers go by the policy that their own script is served with). Where that may not be, \`engine.problem\` says why, and the
same sums are done in JavaScript, to the same bits. \`npm start\`, the browser page and [Many files](examples/many-files.md) use it. How it is built:
[For developers](../DEVELOPERS.md#the-engine).

## On your files

\`npm start\` prints for every file how long it took from reading to the last byte written, and how many times faster than playing that is:

\`\`\`sh
npm start -- --out tamed lead.wav
\`\`\`

Decision, pictures and files are in that time. Finding takes most of it.

## A song of twelve takes

\`\`\`sh
npm run bench:stack -- --only chain-speed --only song-speed
\`\`\`

prints the processor time for four minutes of twelve takes (found, grouped, decided, rendered) and how many seconds of sound each mix chain
takes in a second of processor time, and whether both meet their goals.

## What tests hold

These bounds are part of \`npm test\`, so that a change that breaks them is seen. The first two compare one computation with another in the
same run, so that they hold on any machine.

| what                                                                                      | test                            |
| ----------------------------------------------------------------------------------------- | ------------------------------- |
| an edit of one region of 50,000 costs less than twelve copies of the list's array         | \`test/regions/speed.test.ts\`    |
| levels of 125 regions in a minute cost less than three times the transforms of its frames | \`test/levels/speed.test.ts\`     |
| 500 regions of 100 ms with a band, in four minutes, take under 2 s of processor time      | \`test/gain/render-band.test.ts\` |

## What the work goes with

| call                  | time grows with                                                |
| --------------------- | -------------------------------------------------------------- |
| \`detectConsonants\`    | length × channels                                              |
| \`measureLevels\`       | length × channels                                              |
| \`renderGain\`          | one copy of the clip, then the samples inside regions          |
| \`renderGainInto\`      | the samples inside regions, and a copy unless it is in place   |
| an edit of one region | a copy of the list of references; the other regions are shared |
| \`forecastRise\`        | length × stages, a saturation times its oversampling           |
| \`preemptiveCut\`       | up to ten times that                                           |

## Where it runs

The library is plain JavaScript: no threads, no native code. WebAssembly only where you ask for it, with \`lenition/simd\`. Several takes at once are the caller's business:
[Many files](examples/many-files.md) spreads them over cores, [the browser page](browser-page.md) finds in a worker and plays in an audio
worklet, [Stream a long file](examples/stream-a-long-file.md) holds a little of a long recording at a time.
`;
