import axe, { type AxeResults } from 'axe-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type ExamplePage, openExample } from '../lib/example-page.js';

let example: ExamplePage;

beforeAll(async () => {
  example = await openExample();
  await example.page.evaluate(axe.source);
});
afterAll(() => example?.close());

/** What the rules of axe find, one line each, the two worst grades apart from the others. */
async function violations(state: string): Promise<readonly string[]> {
  const { violations } = (await example.page.evaluate(
    `axe.run(document, { resultTypes: ['violations'] })`,
  )) as AxeResults;
  const lines = violations.map(
    ({ id, impact, help, nodes }) =>
      `${impact} ${id}: ${help}: ${nodes
        .map(({ target }) => target.join(' '))
        .slice(0, 4)
        .join(', ')}`,
  );
  console.log(`${state}: ${lines.length === 0 ? 'axe finds nothing' : lines.join('\n')}`);
  return lines.filter((line) => /^(serious|critical)/.test(line));
}

describe('axe finds nothing serious or critical', () => {
  test('before a take is open, light and dark', async () => {
    for (const colorScheme of ['light', 'dark'] as const) {
      await example.page.emulateMedia({ colorScheme });
      expect(await violations(`empty, ${colorScheme}`)).toEqual([]);
    }
    await example.screenshot('7-dark-welcome');
  });

  test('with a take open and a region chosen, light and dark', async () => {
    await example.page.getByRole('button', { name: 'Built-in take' }).click();
    await example.ready();
    await example.page.locator('#take-view').focus();
    await example.page.keyboard.press('n');
    await expect
      .poll(() => example.page.locator('#notes li').count(), { timeout: 20_000 })
      .toBeGreaterThan(0);
    await example.screenshot('8-dark');
    for (const colorScheme of ['dark', 'light'] as const) {
      await example.page.emulateMedia({ colorScheme });
      expect(await violations(`ready, ${colorScheme}`)).toEqual([]);
    }
  });

  test('with a message about a broken file', async () => {
    await example.page
      .locator('#take-file')
      .setInputFiles({ name: 'words.wav', mimeType: 'audio/wav', buffer: Buffer.from('no sound') });
    await example.page.getByRole('alert').waitFor();
    await example.screenshot('9-refused', false);
    expect(await violations('refused')).toEqual([]);
    await example.page.getByRole('button', { name: 'Close the message' }).click();
  });

  test('on a narrow window, where nothing runs out at the side', async () => {
    await example.page.setViewportSize({ width: 400, height: 800 });
    expect(await violations('narrow')).toEqual([]);
    await example.screenshot('10-narrow');
    const wide = await example.page.evaluate('document.documentElement.scrollWidth');
    // WCAG 2.2, 1.4.10 Reflow (from memory): no scrolling in two directions at 320 px; a pixel is left to rounding.
    await example.page.setViewportSize({ width: 320, height: 800 });
    expect(wide).toBeLessThanOrEqual(401);
    expect(await example.page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(321);
    await example.page.setViewportSize({ width: 1280, height: 900 });
  });

  test('would find something: a button without a name is one', async () => {
    // The check of the check.
    await example.page.evaluate(`document.querySelector('main').append(document.createElement('button'))`);
    expect((await violations('broken on purpose')).join()).toContain('button-name');
    await example.page.evaluate(`document.querySelector('main > button').remove()`);
  });
});

describe('every control', () => {
  test('has the name and role that the page promises', async () => {
    // From the table in examples/browser/README.md.
    const buttons = [
      'Open a WAV',
      'Built-in take',
      'Open regions',
      'Find again',
      'Turn down 6 dB',
      'From here',
      'To here',
      'No range',
      'Previous',
      'Next',
      'Previous uncertain',
      'Next uncertain',
      'Hear before',
      'Hear after',
      'Remove region',
      'Undo',
      'Redo',
      'Play',
      'Decide',
      'Tamed WAV',
      'Regions',
      'Gain points',
      'Zoom in',
      'Zoom out',
      'Whole take',
      'Close up',
    ];
    for (const name of buttons)
      expect(await example.page.getByRole('button', { name, exact: true }).count(), name).toBe(1);
    for (const [role, name] of [
      ['slider', 'Gain in dB'],
      ['slider', 'Monitor level in dB'],
      ['combobox', 'Kind'],
      ['combobox', 'Mix chain'],
      ['combobox', 'Decision'],
      ['spinbutton', 'Cut in dB'],
      ['checkbox', 'Off'],
      ['checkbox', 'Locked'],
      ['checkbox', 'Match loudness'],
      ['checkbox', 'Backing'],
      ['checkbox', 'Keys on'],
      ['radio', 'Tamed'],
      ['radio', 'As recorded'],
      ['radio', 'What was taken away'],
      ['list', 'Worth a listen'],
    ] as const)
      expect(await example.page.getByRole(role, { name, exact: true }).count(), name).toBe(1);
  });

  test('can be reached by Tab, and the focus never hides', async () => {
    const stops = (await example.page.evaluate(
      `document.querySelectorAll('button:not(:disabled), input:not(:disabled):not([hidden]), select:not(:disabled), [tabindex="0"]').length`,
    )) as number;
    const seen = new Set<string>();
    await example.page.locator('body').press('Tab');
    for (let i = 0; i < stops + 5; i++) {
      const stop = (await example.page.evaluate(`(() => {
        const node = document.activeElement;
        const box = node.getBoundingClientRect();
        return { at: node === document.body ? '' : node.outerHTML.slice(0, 90), shown: box.width > 0 && box.height > 0 };
      })()`)) as { at: string; shown: boolean };
      if (stop.at !== '') expect(stop, stop.at).toMatchObject({ shown: true });
      seen.add(stop.at);
      await example.page.keyboard.press('Tab');
    }
    // Two of three radios are reached by arrows alone, and the round passes the browser's own bar.
    expect(seen.size).toBeGreaterThanOrEqual(stops - 3);
  });
});

describe('nothing leaves the machine', () => {
  test('the page asked nobody but its own server', () => {
    expect(example.requests.length).toBeGreaterThan(3);
    const foreign = example.requests.filter(
      (url) => !url.startsWith(`${example.origin}/`) && !/^(data|blob):/.test(url),
    );
    expect(foreign).toEqual([]);
  });

  test('and its policy would not let it', async () => {
    const blocked = (await example.page.evaluate(`(async () => {
      const blocked = [];
      addEventListener('securitypolicyviolation', ({ effectiveDirective, disposition }) => blocked.push(effectiveDirective + ' ' + disposition));
      await fetch('https://example.org/').catch(() => {});
      new Image().src = 'https://example.org/a.png';
      // The notices come when the page has time for them.
      for (let i = 0; i < 200 && blocked.length < 2; i++) await new Promise((done) => setTimeout(done, 100));
      return blocked;
    })()`)) as string[];
    // Enforced: stopped before they left the browser, not only noted.
    expect(blocked).toEqual(expect.arrayContaining(['connect-src enforce', 'img-src enforce']));
  });
});
