import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type ExamplePage, openExample } from '../lib/example-page.js';

let example: ExamplePage;

beforeAll(async () => {
  example = await openExample();
  await example.page.getByRole('button', { name: 'Built-in take' }).click();
  await example.ready();
});
afterAll(() => example?.close());

interface Heard {
  /** RMS of the latest 2048 samples that the page plays, in dB of full scale. */
  readonly levelDb: number;
  readonly state: string;
  readonly time: number;
  /** Left edge of the playhead, in pixels; null where none is shown. */
  readonly playhead: number | null;
}

/** What is heard and shown now; nothing before there is an audio thread. */
function hear(): Promise<Heard> {
  return example.page.evaluate(`(() => {
    const tap = watched.taps.at(-1);
    if (tap === undefined) return { levelDb: -200, state: 'none', time: 0, playhead: null };
    const samples = new Float32Array(tap.fftSize);
    tap.getFloatTimeDomainData(samples);
    const power = samples.reduce((sum, x) => sum + x * x, 0) / samples.length;
    const playhead = document.querySelector('#playhead');
    return {
      levelDb: 10 * Math.log10(Math.max(power, 1e-20)),
      state: tap.context.state,
      time: tap.context.currentTime,
      playhead: playhead.hidden ? null : playhead.getBoundingClientRect().left,
    };
  })()`) as Promise<Heard>;
}

interface Metered {
  /** The loudest that was played since the last call that forgot, in dB. */
  readonly levelDb: number;
  /** From there to the first sound. */
  readonly silentFirstSeconds: number;
  /** For how long nothing has been played now. */
  readonly silentSeconds: number;
}

/** The audio thread's own account: test/browser/pages/loudest-meter.js. */
function metered(order: 'forget' | 'tell' = 'tell'): Promise<Metered> {
  return example.page.evaluate(`(async () => {
    const meter = watched.meters.at(-1);
    if (meter === undefined) return { levelDb: -200, silentFirstSeconds: 0, silentSeconds: 0 };
    const { power, ...silent } = await new Promise((resolve) => {
      meter.port.onmessage = ({ data }) => resolve(data);
      meter.port.postMessage(${JSON.stringify(order)});
    });
    return { levelDb: 10 * Math.log10(Math.max(power, 1e-20)), ...silent };
  })()`) as Promise<Metered>;
}

/** The loudest of what is played within so much of the audio's own time, in dB: a busy machine is only slower. */
async function loudest(milliseconds: number): Promise<number> {
  await metered('forget');
  const end = (await hear()).time + milliseconds / 1000;
  await expect.poll(async () => (await hear()).time, { timeout: 60_000 }).toBeGreaterThanOrEqual(end);
  return (await metered()).levelDb;
}

async function press(...keys: readonly string[]): Promise<void> {
  for (const key of keys) await example.page.keyboard.press(key);
}

/** Presses a key that hears a region, and gives the loudest of it once it has been heard. */
async function hearRegion(key: string): Promise<number> {
  await metered('forget');
  await press(key);
  // On a busy machine the playhead may come and go between two looks; what sounded is kept, and that it is over.
  await expect.poll(async () => (await metered()).levelDb, { timeout: 60_000 }).toBeGreaterThan(-100);
  await expect.poll(async () => (await metered()).silentSeconds, { timeout: 60_000 }).toBeGreaterThan(0.3);
  return (await metered()).levelDb;
}

describe('playing', () => {
  test('pressed as soon as the regions are there, it begins once the sound is', async () => {
    // On a busy machine the audio thread comes up later than the regions: the press must not be lost.
    await press('Space');
    await expect.poll(async () => (await hear()).playhead, { timeout: 60_000 }).not.toBeNull();
    await press('Space');
    await expect.poll(async () => (await hear()).playhead, { timeout: 20_000 }).toBeNull();
  });

  test('starts with Space: the audio runs, sound comes out, the playhead moves', async () => {
    await example.page.locator('#take-view').focus();
    await press('Home', 'Control+ArrowRight', 'Space');
    await expect.poll(async () => (await hear()).levelDb, { timeout: 20_000 }).toBeGreaterThan(-60);
    const one = await hear();
    await example.page.waitForTimeout(500);
    const two = await hear();
    expect(two.state).toBe('running');
    expect(two.time).toBeGreaterThan(one.time);
    expect(one.playhead).not.toBeNull();
    expect(two.playhead!).toBeGreaterThan(one.playhead!);
    await example.screenshot('6-playing', false);
  });

  test('is at a moderate level: 12 dB under the take at first', async () => {
    const slider = example.page.getByRole('slider', { name: 'Monitor level in dB' });
    expect(await slider.inputValue()).toBe('-12');
    // The demonstration's lead peaks at its singer's peakDb, under full scale; 12 dB less leaves at most -12.
    const levelDb = await loudest(2000);
    expect(levelDb).toBeGreaterThan(-60);
    expect(levelDb).toBeLessThan(-12);
  });

  test('A/B while it plays: X swaps tamed and as recorded, the third choice is what was taken away', async () => {
    const chosen = () => example.page.locator('input[name="listen"]:checked').inputValue();
    expect(await chosen()).toBe('tamed');
    await press('x');
    expect(await chosen()).toBe('recorded');
    expect(await loudest(300)).toBeGreaterThan(-60);
    await press('x');
    expect(await chosen()).toBe('tamed');
    expect((await hear()).playhead).not.toBeNull();
  });

  test('pauses with Space: silence, and the playhead is gone', async () => {
    await press('Space');
    await expect.poll(async () => (await hear()).playhead, { timeout: 20_000 }).toBeNull();
    await expect.poll(async () => (await hear()).levelDb, { timeout: 20_000 }).toBeLessThan(-100);
    const name = await example.page.locator('#play').textContent();
    expect(name).toMatch(/^Play/);
  });

  test('what was taken away is silent until the first region, and then sounds', async () => {
    await press('s');
    await example.page.getByRole('radio', { name: 'What was taken away' }).check();
    await example.page.locator('#take-view').focus();
    // The song begins with a rest and a breath, which are not turned down at first.
    await press('Home');
    await metered('forget');
    await press('Space');
    await expect.poll(async () => (await metered()).levelDb, { timeout: 60_000 }).toBeGreaterThan(-100);
    expect((await metered()).silentFirstSeconds).toBeGreaterThan(0.3);
    await press('Escape');
    await example.page.getByRole('radio', { name: 'Tamed' }).check();
    await example.page.locator('#take-view').focus();
  });

  test('a region is heard before and after, with the difference of its cut', async () => {
    // Without the backing, and deep enough to tell from its neighbours: the first sibilant, 18 dB down.
    await press('Home', 'n');
    while (!(await example.text('region-text')).includes('sibilant')) await press('n');
    await press('d', 'd');
    expect(await example.text('region-text')).toContain('−18 dB');
    const before = await hearRegion('b');
    const after = await hearRegion('a');
    expect(before).toBeGreaterThan(-60);
    // The vowel beside it sounds in both, so the loudest may be the vowel: never louder, that is all that holds for any take.
    expect(after).toBeLessThanOrEqual(before + 1);
    // Of a cut of 18 dB the difference is nearly all of it: from the region's start, where the cursor is, it sounds.
    await example.page.getByRole('radio', { name: 'What was taken away' }).check();
    await example.page.locator('#take-view').focus();
    await press('Space');
    await expect.poll(async () => (await hear()).playhead, { timeout: 20_000 }).not.toBeNull();
    const removed = await loudest(400);
    expect(removed).toBeGreaterThan(-70);
    expect(removed).toBeLessThanOrEqual(before + 1);
    await press('Escape');
    await example.page.getByRole('radio', { name: 'Tamed' }).check();
    await example.page.locator('#take-view').focus();
    await press('z', 'z');
  });

  test('with matched loudness the louder one is turned down, and the page says by how much', async () => {
    await press('y');
    await expect.poll(() => example.text('match-text'), { timeout: 60_000 }).toMatch(/dB/);
    await press('y');
  });

  test('through the mix chain it sounds as well', async () => {
    await example.page.getByRole('combobox', { name: 'Mix chain' }).selectOption('forward and bright');
    await example.page.locator('#take-view').focus();
    await press('Home', 'Control+ArrowRight', 'Space');
    expect(await loudest(3000)).toBeGreaterThan(-60);
    await press('Space', 'v');
    expect(await example.page.getByRole('combobox', { name: 'Mix chain' }).inputValue()).toBe('none');
  });

  test('nothing went wrong in the page meanwhile', () => {
    expect(example.errors).toEqual([]);
  });
});
