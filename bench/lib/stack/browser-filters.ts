import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Chain, FilterSpec } from '../../../src/forecast/chain.js';
import type { Samples } from '../../../src/signal/samples.js';

/** Debian's browser. */
const BROWSER = 'chromium';

/** Settings of a BiquadFilterNode. */
export interface FilterNodeOptions {
  readonly type: string;
  readonly frequency: number;
  readonly Q?: number;
  readonly gain?: number;
}

/** Whether the browser can be run here. */
export function hasBrowser(): boolean {
  return spawnSync(BROWSER, ['--version']).status === 0;
}

/**
 * Filters as nodes of W3C Web Audio API 1.1, "Filters Characteristics" (from memory). Its Q of a low- or high-pass is in dB, of a
 * peaking filter or band-pass it is plain, and its shelves have slope 1 and no other. Throws for stages that are no such filters.
 */
export function filterNodeOptions(chain: Chain): readonly FilterNodeOptions[] {
  return chain.stages.flatMap((stage) => {
    if (stage.kind !== 'equaliser' || (stage.wet ?? 1) !== 1)
      throw new Error('only filters without a dry path are run in the browser');
    return stage.filters.map(nodeOptions);
  });
}

function nodeOptions(filter: FilterSpec): FilterNodeOptions {
  const node = { type: filter.kind.toLowerCase(), frequency: filter.frequencyHz };
  switch (filter.kind) {
    case 'lowPass':
    case 'highPass':
      return { ...node, Q: 20 * Math.log10(filter.q ?? Math.SQRT1_2) };
    case 'bandPass':
      return { ...node, Q: filter.q };
    case 'peaking':
      return { ...node, Q: filter.q, gain: filter.gainDb };
    default:
      if ((filter.slope ?? 1) !== 1) throw new Error('a BiquadFilterNode has shelves of slope 1 alone');
      return { ...node, gain: filter.gainDb };
  }
}

/** The clip as the browser makes it with the same filters. Throws where the browser fails. */
export function runBrowser(samples: Samples, chain: Chain, sampleRateHz: number): Samples {
  const folder = mkdtempSync(join(tmpdir(), 'filters-'));
  try {
    const page = join(folder, 'page.html');
    writeFileSync(page, pageOf(samples, filterNodeOptions(chain), sampleRateHz));
    // As root the browser starts without its sandbox only; the page is our own.
    const asRoot = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
    const quiet = ['--headless', '--disable-gpu', '--disable-background-networking', '--no-first-run'];
    const run = spawnSync(
      BROWSER,
      [
        ...quiet,
        ...asRoot,
        `--user-data-dir=${join(folder, 'user')}`,
        '--dump-dom',
        pathToFileURL(page).href,
      ],
      { maxBuffer: 2 ** 30, timeout: 120_000, encoding: 'utf8' },
    );
    const found = /<pre id="out">([^<]*)<\/pre>/.exec(run.stdout ?? '')?.[1] ?? '';
    const bytes = Buffer.from(found, 'base64');
    if (bytes.length !== 4 * samples.length)
      throw new Error(`${BROWSER}: ${found.slice(0, 200)} ${run.error ?? ''} ${run.stderr ?? ''}`);
    return new Float32Array(Uint8Array.from(bytes).buffer);
  } finally {
    rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  }
}

/** Greatest difference of two sounds, in dB of the greatest sample of the second. */
export function differenceDb(sound: Samples, reference: Samples): number {
  let difference = 0;
  let peak = 0;
  for (let i = 0; i < reference.length; i++) {
    difference = Math.max(difference, Math.abs((sound[i] as number) - (reference[i] as number)));
    peak = Math.max(peak, Math.abs(reference[i] as number));
  }
  return 20 * Math.log10(difference / peak);
}

/** The page renders offline. A document left open in a frame holds the load event back, for which the browser waits before it prints. */
function pageOf(samples: Samples, filters: readonly FilterNodeOptions[], sampleRateHz: number): string {
  const sound = Buffer.from(Float32Array.from(samples).buffer).toString('base64');
  return `<!doctype html><pre id="out">not rendered</pre><iframe></iframe><script>
const out = document.getElementById('out');
const held = document.querySelector('iframe').contentDocument;
held.open();
async function render() {
  const bytes = Uint8Array.from(atob('${sound}'), (c) => c.charCodeAt(0));
  const samples = new Float32Array(bytes.buffer);
  const context = new OfflineAudioContext(1, samples.length, ${sampleRateHz});
  const buffer = context.createBuffer(1, samples.length, ${sampleRateHz});
  buffer.copyToChannel(samples, 0);
  const source = new AudioBufferSourceNode(context, { buffer });
  let end = source;
  for (const options of ${JSON.stringify(filters)}) end = end.connect(new BiquadFilterNode(context, options));
  end.connect(context.destination);
  source.start();
  const done = (await context.startRendering()).getChannelData(0);
  const raw = new Uint8Array(done.buffer, done.byteOffset, done.byteLength);
  const parts = [];
  for (let i = 0; i < raw.length; i += 8192) parts.push(String.fromCharCode(...raw.subarray(i, i + 8192)));
  return btoa(parts.join(''));
}
render().catch(String).then((text) => { out.textContent = text; held.close(); });
</script>`;
}
