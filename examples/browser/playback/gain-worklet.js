// Runs on the audio thread, as it stands here: the imports are the published library's own ES modules, copied beside it.
import { createChainProcessor } from './lenition/forecast.js';
import { createBandGainRenderer, createGainRenderer } from './lenition/gain.js';

/** Sound before the start that a chain hears first, so that its compressors have settled; in seconds. */
const SETTLING_SECONDS = 1;
/** Blocks of it that are worked off in one go: the audio thread must never be late. */
const SETTLING_BLOCKS = 12;
/** Settling where a chain comes in while it plays, in samples. */
const SHORT_SETTLING_SAMPLES = 512;

/** A take with the gain of one region list, read block by block from any position. */
function createVoice(channels, list) {
  const hasBand = list.regions.some((region) => region.band !== undefined);
  const renderer = hasBand ? createBandGainRenderer(list) : createGainRenderer(list);
  const late = hasBand ? renderer.latencySamples : 0;
  return {
    recorded(out, from) {
      copyInto(out, channels, from);
    },
    tamed(out, from) {
      // A filter needs the sound on both sides of what it changes: read ahead, after a jump from before.
      if (renderer.positionSample !== from + late) {
        renderer.seek(Math.max(0, from - late));
        const missing = from + late - renderer.positionSample;
        if (missing > 0) {
          const before = blocks(channels.length, missing);
          copyInto(before, channels, renderer.positionSample);
          renderer.pushInto(before, before);
        }
      }
      copyInto(out, channels, from + late);
      renderer.pushInto(out, out);
    },
  };
}

class TakePlayer extends AudioWorkletProcessor {
  constructor() {
    super();
    this.channels = null;
    this.voice = null;
    this.listen = 'tamed';
    this.chain = null;
    this.processor = null;
    /** The next sample that the chain has not heard. */
    this.chainAt = 0;
    /** What was heard until now, for one block of crossfade. */
    this.before = null;
    /** { atFrame, startSample, endSample }; a run may lie in the future. */
    this.run = null;
    /** What follows when the run has faded out: a run, or null for none; undefined while nothing ends it. */
    this.next = undefined;
    this.port.onmessage = ({ data }) => this.receive(data);
  }

  receive(data) {
    if (data.samplesFrom !== undefined) {
      data.samplesFrom.onmessage = (sent) => {
        this.channels = sent.data.channels;
        data.samplesFrom.close();
        if (this.list !== undefined) this.voice = createVoice(this.channels, this.list);
        this.port.postMessage('ready');
      };
    }
    if (data.list !== undefined) {
      this.keepBefore();
      this.list = data.list;
      if (this.channels !== null) this.voice = createVoice(this.channels, data.list);
    }
    if (data.listen !== undefined) {
      this.keepBefore();
      this.listen = data.listen;
    }
    if (data.chain !== undefined) {
      this.chain = data.chain;
      this.startChain(this.position(), SHORT_SETTLING_SAMPLES);
    }
    if (data.run !== undefined) {
      // What plays has one block more to fade out in.
      if (this.run !== null && currentFrame >= this.run.atFrame) this.next = data.run;
      else this.begin(data.run);
    }
  }

  begin(run) {
    this.next = undefined;
    this.run = run;
    this.before = null;
    if (run !== null) this.startChain(run.startSample, SETTLING_SECONDS * sampleRate);
  }

  keepBefore() {
    if (this.run !== null && this.voice !== null) this.before ??= { voice: this.voice, listen: this.listen };
  }

  position() {
    return this.run === null ? 0 : this.run.startSample + Math.max(0, currentFrame - this.run.atFrame);
  }

  startChain(sample, settlingSamples) {
    this.processor = null;
    if (this.chain === null || this.channels === null) return;
    const channelCount = this.channels.length;
    this.processor = createChainProcessor(this.chain, { sampleRateHz: sampleRate, channelCount });
    this.chainAt = Math.max(0, sample - Math.round(settlingSamples));
  }

  process(_inputs, [out]) {
    if (this.run === null || this.voice === null || out.length !== this.channels.length) return true;
    try {
      if (currentFrame < this.run.atFrame) this.settle(this.run.startSample, SETTLING_BLOCKS);
      else this.play(out);
      if (this.next !== undefined) {
        fadeOut(out);
        this.begin(this.next);
      }
    } catch (error) {
      for (const channel of out) channel.fill(0);
      this.begin(null);
      this.port.postMessage({ problem: String(error) });
    }
    return true;
  }

  play(out) {
    const at = this.position();
    if (at >= this.run.endSample) {
      this.run = null;
      this.port.postMessage('ended');
      return;
    }
    if (this.processor === null) {
      this.read(out, at);
      return;
    }
    this.settle(at, Number.POSITIVE_INFINITY);
    this.read(out, this.chainAt);
    this.chainAt += out[0].length;
    this.processor.pushInto(out, out);
  }

  /** Lets the chain hear what lies before a sample, and as far beyond it as its own delay, so that nothing comes late. */
  settle(sample, mostBlocks) {
    if (this.processor === null) return;
    const goal = sample + this.processor.latencySamples;
    for (let b = 0; b < mostBlocks && this.chainAt < goal; b++) {
      const block = blocks(this.channels.length, Math.min(128, goal - this.chainAt));
      this.read(block, this.chainAt);
      this.chainAt += block[0].length;
      this.processor.pushInto(block, block);
    }
  }

  /** What is listened to from a sample on. After an edit or a change of mind the old goes over into the new within the block. */
  read(out, from) {
    heard(out, this.voice, this.listen, from);
    if (this.before === null) return;
    const old = blocks(out.length, out[0].length);
    heard(old, this.before.voice, this.before.listen, from);
    this.before = null;
    for (let c = 0; c < out.length; c++)
      for (let i = 0; i < out[c].length; i++) {
        const part = i / out[c].length;
        out[c][i] = part * out[c][i] + (1 - part) * old[c][i];
      }
  }
}

function heard(out, voice, listen, from) {
  if (listen !== 'removed') {
    voice[listen](out, from);
    return;
  }
  // Input less output, at the level it has.
  const tamed = blocks(out.length, out[0].length);
  voice.recorded(out, from);
  voice.tamed(tamed, from);
  for (let c = 0; c < out.length; c++) for (let i = 0; i < out[c].length; i++) out[c][i] -= tamed[c][i];
}

function fadeOut(out) {
  for (const channel of out) for (let i = 0; i < channel.length; i++) channel[i] *= 1 - i / channel.length;
}

function blocks(count, length) {
  return Array.from({ length: count }, () => new Float32Array(length));
}

/** A stretch of the take; silence beyond its end. */
function copyInto(out, channels, from) {
  for (let c = 0; c < out.length; c++) {
    out[c].fill(0);
    if (from < channels[c].length) out[c].set(channels[c].subarray(from, from + out[c].length));
  }
}

registerProcessor('take-player', TakePlayer);
