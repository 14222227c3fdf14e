/**
 * Pictures of a take, a stack and a forecast as the text of an SVG document. An entry of its own: it holds a PNG encoder, which the main entry has not.
 *
 * @packageDocumentation
 */
export { type DrawForecastOptions, drawForecast } from './draw-forecast.js';
export { DEFAULT_DRAW_STACK_OPTIONS, type DrawStackOptions, drawStack } from './draw-stack.js';
export {
  DEFAULT_DRAW_TAKE_OPTIONS,
  type DrawTakeOptions,
  drawTake,
  MOST_PICTURE_BYTES,
} from './draw-take.js';
