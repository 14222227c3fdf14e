/**
 * A coordinate as text: at most two decimals, no trailing zeros, never "-0".
 *
 * Fixed decimals make the picture the same on every engine and keep it small.
 *
 * @param value finite.
 */
export function coordinate(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return rounded === 0 ? '0' : String(rounded);
}

/**
 * A gain as a person writes it: at most one decimal, a true minus sign, a plus sign for a boost.
 *
 * @param gainDb in dB, finite.
 */
export function gainText(gainDb: number): string {
  const rounded = Math.round(gainDb * 10) / 10;
  if (rounded === 0) return '0';
  return rounded < 0 ? `−${-rounded}` : `+${rounded}`;
}

/**
 * A time as a person reads it on an axis: seconds, minutes:seconds or hours:minutes:seconds.
 *
 * @param seconds at least 0.
 * @param decimals digits after the point.
 * @param wholeSeconds length of what the axis spans from 0; from 60 s on, minutes are written.
 */
export function timeText(seconds: number, decimals: number, wholeSeconds: number): string {
  const scale = 10 ** decimals;
  // Rounded once, as a whole number of the smallest digit: 59.996 must become 1:00.00, not 0:60.00.
  const units = Math.round(seconds * scale);
  if (wholeSeconds < 60) return (units / scale).toFixed(decimals);
  const totalSeconds = Math.floor(units / scale);
  const fraction = decimals > 0 ? `.${String(units - totalSeconds * scale).padStart(decimals, '0')}` : '';
  const two = (n: number): string => String(n).padStart(2, '0');
  const hours = Math.floor(totalSeconds / 3600);
  const minutes = Math.floor(totalSeconds / 60) % 60;
  const tail = `${two(totalSeconds % 60)}${fraction}`;
  return hours > 0 || wholeSeconds >= 3600 ? `${hours}:${two(minutes)}:${tail}` : `${minutes}:${tail}`;
}

/**
 * A width for a line of sans-serif text that is not narrower than the common sans fonts draw it.
 *
 * Classes of characters with the widths of a wide-running font (read off DejaVu Sans, which is wider than Arial, Roboto and the like);
 * 1 em for anything outside Latin; bold adds a tenth. Too wide wastes room; too narrow lets labels touch.
 *
 * @param text one line.
 * @param sizePixels font size in pixels.
 * @param bold true for bold text.
 * @returns width in pixels.
 */
export function textWidth(text: string, sizePixels: number, bold: boolean = false): number {
  let ems = 0;
  for (const character of text) {
    if (" ilj.,:;|!'I".includes(character)) ems += 0.36;
    else if ('tfr()[]-·'.includes(character)) ems += 0.46;
    else if ('−+=<>≤wCDGHNOQU'.includes(character)) ems += 0.84;
    else if ('mMW%@—…→“”'.includes(character) || (character.codePointAt(0) as number) > 0x24f) ems += 1;
    else if (character >= 'A' && character <= 'Z') ems += 0.72;
    else ems += 0.64;
  }
  return ems * sizePixels * (bold ? 1.1 : 1);
}

/** `text` shortened with an ellipsis so that `textWidth` stays within `widthPixels`. */
export function fitText(
  text: string,
  sizePixels: number,
  widthPixels: number,
  bold: boolean = false,
): string {
  if (textWidth(text, sizePixels, bold) <= widthPixels) return text;
  let kept = '';
  for (const character of text) {
    if (textWidth(`${kept}${character}…`, sizePixels, bold) > widthPixels) break;
    kept += character;
  }
  return kept === '' ? '' : `${kept}…`;
}
