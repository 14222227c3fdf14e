import fc from 'fast-check';
import { forecastRise } from '../../../src/forecast/index.js';
import * as p from '../../../src/picture/index.js';
import { groupEvents } from '../../../src/takes/index.js';
import { chains } from '../arbitraries/chains.js';
import { stacks, takesOfSound } from '../arbitraries/measured.js';
import { options, whole, within } from '../arbitraries/numbers.js';
import { labels } from '../arbitraries/region-lists.js';
import { must } from '../lib/failure.js';
import { type Properties, property } from '../lib/property.js';

/** Well formed: no raw marks, no NaN, no control characters, and not larger than is promised. */
function isPicture(svg: string): void {
  must(
    svg.startsWith('<svg') && svg.trimEnd().endsWith('</svg>'),
    'must be an SVG document',
    svg.slice(0, 40),
  );
  must(svg.length < p.MOST_PICTURE_BYTES, 'must be below MOST_PICTURE_BYTES', svg.length);
  must(
    !/NaN|Infinity|undefined/.test(svg.replace(/<(title|text|tspan|desc)[^>]*>[^<]*|base64,[^"]*/g, '')),
    'must hold no NaN',
  );
  // biome-ignore lint/suspicious/noControlCharactersInRegex: XML 1.0 allows none of them (section 2.2).
  must(!/[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]/.test(svg), 'must hold no control characters');
}

export const PICTURE: Properties = {
  drawTake: property(
    p.drawTake,
    fc
      .tuple(
        takesOfSound,
        options({
          name: labels,
          minConfidence: within(0, 1),
          topFrequencyHz: within(500, 96000),
          closeUpSeconds: within(0, 1),
          detailCount: whole(0, 12),
          rollSeconds: within(0.01, 1),
        }),
      )
      .map(([c, o]) => [c.channels, c.list, o] as const),
    { audio: [0, 'all'], weight: 0.04, check: isPicture },
  ),
  drawStack: property(
    p.drawStack,
    fc
      .tuple(stacks, options({ name: labels, detailCount: whole(0, 6) }))
      .map(([takes, o]) => [takes, groupEvents(takes), o] as const),
    {
      made: [0, 1],
      weight: 0.04,
      mayRefuse: /must place it where another take sounds/,
      check: isPicture,
    },
  ),
  drawForecast: property(
    p.drawForecast,
    fc
      .tuple(takesOfSound, chains, options({ name: labels, title: labels, targetDb: within(-36, 36) }))
      .map(([c, chain, o]) => [c.list, forecastRise(c.channels, c.list, chain), o] as const),
    { weight: 0.04, check: isPicture },
  ),
};
