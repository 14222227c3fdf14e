export {
  DEFAULT_DRAW_TAKE_OPTIONS,
  type DrawTakeOptions,
  drawTake,
  MOST_PICTURE_BYTES,
} from './draw-take.js';
