/**
 * A text for people as the text of a cue (W3C, WebVTT, section 4.2.2): `&`, `<` and `>` as character references, so that no tag
 * and no arrow is left; line ends and other controls as a space, so that no blank line ends the cue; half a surrogate pair, which
 * UTF-8 cannot carry, as U+FFFD.
 */
export function cueText(text: string): string {
  return text
    .replace(/[\p{Cc}\u2028\u2029]+/gu, ' ')
    .replace(/\p{Cs}/gu, '\uFFFD')
    .replace(/[&<>]/g, (unit) => NAMED_UNITS.get(unit) as string);
}

/**
 * The plain text of a cue of another program: tags dropped, an unclosed one up to the end, and the character references that
 * are usual in WebVTT resolved. Others stay as they stand (section 6.4 allows all of HTML's).
 */
export function plainCueText(text: string): string {
  let plain = '';
  for (let at = 0; at < text.length; ) {
    const open = text.indexOf('<', at);
    plain += text.slice(at, open === -1 ? text.length : open);
    const close = open === -1 ? -1 : text.indexOf('>', open);
    at = close === -1 ? text.length : close + 1;
  }
  return plain.replace(/&(?:amp|lt|gt|lrm|rlm|nbsp);/g, (name) => REFERENCES.get(name) as string);
}

const REFERENCES: ReadonlyMap<string, string> = new Map([
  ['&amp;', '&'],
  ['&lt;', '<'],
  ['&gt;', '>'],
  ['&lrm;', '\u200E'],
  ['&rlm;', '\u200F'],
  ['&nbsp;', '\u00A0'],
]);

const NAMED_UNITS: ReadonlyMap<string, string> = new Map([...REFERENCES].map(([name, unit]) => [unit, name]));
