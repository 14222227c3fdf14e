import type { Engine } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';
import {
  AHEAD_ROWS,
  AHEAD_SLOTS,
  BAND_COUNT,
  INPUT_COUNT,
  PAST_SLOTS,
  SLOT_FRAMES,
} from './detection-scale.js';
import { DB_PER_NEPER, LEAST_POWER } from './frame-tables.js';
import { createRowStore, type RowStore } from './row-store.js';

/** Groups of bands whose reference is told to the classifier: the colour of this voice in this recording. */
const COLOUR_GROUPS = [0, 2, 6, 10, BAND_COUNT] as const;
/** A noise floor is not taken for lower than this under the voice, in dB: room tone after digital silence is still room tone. */
const DEEPEST_FLOOR_DB = 60;
/** Groups of bands with a noise floor each. */
const FLOOR_GROUPS = [0, 4, 9, BAND_COUNT] as const;
const FLOORS = FLOOR_GROUPS.length - 1;
/** Groups of bands whose loudest noise in the stretch is a second reference: 1.65, 2.5, 4, 5.2 and 7.6 kHz are the edges. */
const CEILING_GROUPS = [6, 8, 11, 13, BAND_COUNT] as const;
const CEILINGS = CEILING_GROUPS.length - 1;
/** What is loudest is a mean over so many frames, 32 ms: an s lasts as long, a release and a click do not. */
const CEILING_FRAMES = 6;
/** Place of a frame's weight in its row of levels. */
const WEIGHT_AT = BAND_COUNT + FLOORS + 2 * CEILINGS;
/** Numbers in a row of levels. */
const LEVEL_COUNT = WEIGHT_AT + 1;
/** Numbers in a row of slots: weight, weighted level of each band, mean level of each floor group, loudest of each ceiling group. */
const FLOORS_AT = 1 + BAND_COUNT;
const CEILINGS_AT = FLOORS_AT + FLOORS;
const SLOT_COUNT = CEILINGS_AT + CEILINGS;
/** Slots that are put together once, so that a stretch of 93 slots is read as some ten groups and the slots at its ends. */
const GROUP_SLOTS = 8;
/** Bands that weigh a frame in the reference: 300 Hz to 2.5 kHz, where a voice is loud and a consonant is not. */
const FIRST_VOICE_BAND = 1;
const END_VOICE_BAND = 8;

/** Turns band powers into classifier inputs, relative to the voice and noise around each frame. */
export interface VoiceReference {
  /** Adds every input row that `bands` allows; with `ended`, all of them. */
  advance(bands: RowStore, ended: boolean, inputs: RowStore): void;
  /** First row of `bands` that is still needed. */
  readonly neededBand: number;
  /** Says that no row follows. */
  release(): void;
}

/**
 * Local normalisation. Within [t − 6.0 s, t + 1.9 s] the level of each band is averaged in dB, each frame weighted
 * by its amplitude between 300 Hz and 2.5 kHz, so vowels count and silence does not; no absolute level enters, and a
 * gentle filter over the whole recording nearly cancels out. What is an f or a t in one voice is an s in another: beside this voice's
 * loudest noise they differ. `FrameClassifier` says what each of the INPUT_COUNT numbers of a row is.
 */
export function createVoiceReference(usableBands: number, engine?: Engine | null): VoiceReference {
  const lender = engine?.lender;
  const slots = createRowStore(SLOT_COUNT, 112, lender);
  // Of every GROUP_SLOTS slots, as if they were one.
  const groups = createRowStore(SLOT_COUNT, 16, lender);
  // Per frame: level of each band, of each floor group, of each ceiling group, power of the last of those over CEILING_FRAMES.
  // Last the weight in the voice reference.
  const levels = createRowStore(LEVEL_COUNT, AHEAD_ROWS, lender);
  const powers = new Float64Array(BAND_COUNT);
  const recent = new Float64Array(CEILING_FRAMES * CEILINGS);
  const ceiling = new Float64Array(CEILINGS);
  const stretch = new Float64Array(SLOT_COUNT);
  const reference = new Float64Array(BAND_COUNT);
  const floor = new Float64Array(FLOORS);
  const colour = new Float64Array(COLOUR_GROUPS.length - 1);
  let nextSlot = 0;

  return {
    advance,
    get neededBand() {
      return levels.end;
    },
    release() {
      slots.release();
      groups.release();
      levels.release();
    },
  };

  function advance(bands: RowStore, ended: boolean, inputs: RowStore): void {
    while (levels.end < bands.end) addLevels(bands, levels.end);
    while ((slots.end + 1) * SLOT_FRAMES <= levels.end) addSlot(slots.end);
    if (ended && slots.end * SLOT_FRAMES < levels.end) addSlot(slots.end);
    while (nextSlot < slots.end && (ended || nextSlot + AHEAD_SLOTS < slots.end))
      addInputs(nextSlot++, inputs);
    slots.dropBefore(nextSlot - PAST_SLOTS);
    groups.dropBefore(Math.floor((nextSlot - PAST_SLOTS) / GROUP_SLOTS));
    levels.dropBefore(nextSlot * SLOT_FRAMES);
  }

  function addLevels(bands: RowStore, row: number): void {
    const from = bands.at(row);
    const given = bands.data;
    for (let band = 0; band < BAND_COUNT; band++)
      powers[band] = given[from + (band < usableBands ? band : usableBands - 1)] as number;
    const to = levels.add();
    const { data } = levels;
    for (let band = 0; band < BAND_COUNT; band++)
      data[to + band] = DB_PER_NEPER * Math.log((powers[band] as number) + LEAST_POWER);
    for (let g = 0; g < FLOORS; g++) {
      const power = sumOf(powers, FLOOR_GROUPS[g] as number, FLOOR_GROUPS[g + 1] as number);
      data[to + BAND_COUNT + g] = DB_PER_NEPER * Math.log(power + LEAST_POWER);
    }
    data[to + WEIGHT_AT] = Math.sqrt(sumOf(powers, FIRST_VOICE_BAND, END_VOICE_BAND) + LEAST_POWER);
    const place = (row % CEILING_FRAMES) * CEILINGS;
    for (let g = 0; g < CEILINGS; g++) {
      const power = sumOf(powers, CEILING_GROUPS[g] as number, CEILING_GROUPS[g + 1] as number);
      recent[place + g] = power;
      let sustained = 0;
      for (let k = g; k < recent.length; k += CEILINGS) sustained += recent[k] as number;
      data[to + BAND_COUNT + FLOORS + g] = DB_PER_NEPER * Math.log(power + LEAST_POWER);
      data[to + BAND_COUNT + FLOORS + CEILINGS + g] = sustained / CEILING_FRAMES;
    }
  }

  function addSlot(slot: number): void {
    const at = slots.add();
    const { data } = slots;
    const firstRow = slot * SLOT_FRAMES;
    const endRow = Math.min(levels.end, firstRow + SLOT_FRAMES);
    const rows = levels.data;
    const first = levels.at(firstRow);
    const end = first + (endRow - firstRow) * levels.width;
    for (let from = first; from < end; from += levels.width) {
      const weight = rows[from + WEIGHT_AT] as number;
      data[at] = (data[at] as number) + weight;
      for (let band = 0; band < BAND_COUNT; band++)
        data[at + 1 + band] = (data[at + 1 + band] as number) + weight * (rows[from + band] as number);
      for (let g = 0; g < FLOORS; g++)
        data[at + FLOORS_AT + g] =
          (data[at + FLOORS_AT + g] as number) +
          (rows[from + BAND_COUNT + g] as number) / (endRow - firstRow);
    }
    for (let g = 0; g < CEILINGS; g++) {
      let most = LEAST_POWER;
      for (let from = first; from < end; from += levels.width)
        most = Math.max(most, rows[from + BAND_COUNT + FLOORS + CEILINGS + g] as number);
      data[at + CEILINGS_AT + g] = DB_PER_NEPER * Math.log(most);
    }
    if (slots.end % GROUP_SLOTS === 0) addGroup(slots.end - GROUP_SLOTS);
  }

  function addGroup(firstSlot: number): void {
    putTogether(slots, firstSlot, firstSlot + GROUP_SLOTS);
    // Asked for before the data, which adding may move.
    const at = groups.add();
    groups.data.set(stretch, at);
  }

  /** Starts a stretch with these rows of slots or groups, or with none. */
  function putTogether(rows: RowStore, from: number, to: number): void {
    stretch.fill(0, 0, FLOORS_AT);
    stretch.fill(Number.POSITIVE_INFINITY, FLOORS_AT, CEILINGS_AT);
    stretch.fill(Number.NEGATIVE_INFINITY, CEILINGS_AT);
    takeIn(rows, from, to);
  }

  function takeIn(rows: RowStore, from: number, to: number): void {
    const { data } = rows;
    const end = rows.at(to);
    for (let at = rows.at(from); at < end; at += SLOT_COUNT) {
      for (let i = 0; i < FLOORS_AT; i++) stretch[i] = (stretch[i] as number) + (data[at + i] as number);
      for (let i = FLOORS_AT; i < CEILINGS_AT; i++)
        stretch[i] = Math.min(stretch[i] as number, data[at + i] as number);
      for (let i = CEILINGS_AT; i < SLOT_COUNT; i++)
        stretch[i] = Math.max(stretch[i] as number, data[at + i] as number);
    }
  }

  function readReferences(slot: number): void {
    const from = Math.max(0, slot - PAST_SLOTS);
    const to = Math.min(slots.end, slot + AHEAD_SLOTS + 1);
    const firstGroup = Math.ceil(from / GROUP_SLOTS);
    const endGroup = Math.max(firstGroup, Math.floor(to / GROUP_SLOTS));
    putTogether(slots, from, Math.min(to, firstGroup * GROUP_SLOTS));
    takeIn(groups, firstGroup, endGroup);
    takeIn(slots, Math.min(to, endGroup * GROUP_SLOTS), to);
    const weight = stretch[0] as number;
    let mean = 0;
    for (let band = 0; band < BAND_COUNT; band++) {
      reference[band] = (stretch[1 + band] as number) / weight;
      mean += (reference[band] as number) / BAND_COUNT;
    }
    floor.set(stretch.subarray(FLOORS_AT, CEILINGS_AT));
    ceiling.set(stretch.subarray(CEILINGS_AT));
    for (let g = 0; g < FLOORS; g++) floor[g] = Math.max(floor[g] as number, mean - DEEPEST_FLOOR_DB);
    for (let g = 0; g < colour.length; g++) {
      const from = COLOUR_GROUPS[g] as number;
      const to = COLOUR_GROUPS[g + 1] as number;
      let sum = 0;
      for (let band = from; band < to; band++) sum += (reference[band] as number) - mean;
      colour[g] = sum / (to - from) / 10;
    }
  }

  function addInputs(slot: number, inputs: RowStore): void {
    readReferences(slot);
    const firstRow = slot * SLOT_FRAMES;
    const count = Math.min(levels.end, firstRow + SLOT_FRAMES) - firstRow;
    // Asked for before the data, which adding may move.
    const to = inputs.add(count);
    writeInputs(inputs.data, to, levels.data, levels.at(firstRow), count, reference, colour, floor, ceiling);
  }
}

/** Inputs of `count` frames from their levels and the references that they share. */
function writeInputs(
  out: Doubles,
  at: number,
  levels: Doubles,
  levelsAt: number,
  count: number,
  reference: Doubles,
  colour: Doubles,
  floor: Doubles,
  ceiling: Doubles,
): void {
  for (let row = 0, to = at, from = levelsAt; row < count; row++, to += INPUT_COUNT, from += LEVEL_COUNT) {
    let sum = 0;
    for (let band = 0; band < BAND_COUNT; band++) {
      const relative = (levels[from + band] as number) - (reference[band] as number);
      const held = 0.1 * Math.max(-50, Math.min(40, relative));
      out[to + band] = held;
      sum += held;
    }
    let next = to + BAND_COUNT;
    for (let g = 0; g < colour.length; g++) out[next++] = colour[g] as number;
    for (let g = 0; g < FLOORS; g++)
      out[next++] = Math.min(60, (levels[from + BAND_COUNT + g] as number) - (floor[g] as number)) / 15;
    out[next++] = sum / BAND_COUNT;
    for (let g = 0; g < CEILINGS; g++) {
      const below = (levels[from + BAND_COUNT + FLOORS + g] as number) - (ceiling[g] as number);
      out[next++] = 0.1 * Math.max(-40, Math.min(10, below));
    }
  }
}

function sumOf(values: Doubles, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += values[i] as number;
  return sum;
}
