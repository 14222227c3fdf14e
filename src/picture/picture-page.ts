import { escapeXml } from './escape-xml.js';
import { PAPER } from './kind-style.js';
import { fitText } from './numbers.js';
import { svgRect } from './svg-parts.js';

/** Width of a picture in its own units. */
export const PICTURE_WIDTH = 1200;
/** Free space on the left and on the right. */
export const PICTURE_MARGIN = 28;
/** What lies between the margins. */
export const PICTURE_INNER: number = PICTURE_WIDTH - 2 * PICTURE_MARGIN;

const FONT =
  'Inter, &quot;Source Sans 3&quot;, &quot;Segoe UI&quot;, Roboto, &quot;Helvetica Neue&quot;, Arial, &quot;DejaVu Sans&quot;, sans-serif';

/** What a picture is made of. */
export interface PictureParts {
  /** The title as an SVG element too, for whoever cannot see the picture; escaped and shortened here. */
  readonly heading: string;
  /** The picture in words; escaped here. */
  readonly description: string;
  /** Ready-made markup of the patterns; empty for none. */
  readonly patterns: string;
  /** Ready-made markup of everything that is seen. */
  readonly body: string;
  readonly height: number;
}

/** The text of an SVG document on paper of the picture's width. */
export function picturePage({ heading, description, patterns, body, height }: PictureParts): string {
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${PICTURE_WIDTH}" height="${height}" viewBox="0 0 ${PICTURE_WIDTH} ${height}"` +
    ` role="img" font-family="${FONT}">` +
    `<title>${escapeXml(fitText(heading, 24, 4 * PICTURE_INNER))}</title><desc>${escapeXml(description)}</desc>` +
    (patterns === '' ? '' : `<defs>${patterns}</defs>`) +
    `${svgRect(0, 0, PICTURE_WIDTH, height, `fill="${PAPER}"`)}${body}</svg>\n`
  );
}
