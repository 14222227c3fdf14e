import type { Chain } from '../../../src/forecast/chain.js';
import type { RegionList } from '../../../src/regions/region.js';
import { amplitudeFromDecibels } from '../../../src/signal/decibels.js';
import type { Listen, TakeInfo } from '../state/page-state.js';

/** Time from a press to the sound: the chain settles in it, and take and backing begin at one sample. */
const LEAD_SECONDS = 0.12;
/** Fade where playing begins or is stopped, so that it does not click. */
const FADE_SECONDS = 0.004;

/** What is heard, and how; what is left out stays. */
export interface Sound {
  readonly list?: RegionList;
  readonly listen?: Listen;
  readonly chain?: Chain | null;
  readonly backingOn?: boolean;
  /** Level of the take alone, in dB, 0 or less: for matched loudness. */
  readonly takeDb?: number;
  /** Level of everything, in dB. */
  readonly monitorDb?: number;
}

/** Plays a take through the audio worklet, and a backing track beside it. */
export interface Player {
  /** A new take; its samples come through the port that is returned. */
  open(take: TakeInfo): Promise<MessagePort>;
  set(sound: Sound): void;
  /** Plays from a sample to another; what was playing stops. */
  play(startSample: number, endSample: number): Promise<void>;
  stop(): void;
  /** The sample that is heard now; null where nothing plays. */
  position(): number | null;
  /** Any file the browser can decode, at the take's rate. */
  decode(file: Blob): Promise<AudioBuffer>;
  /** The backing from samples that are at the take's rate, or from a decoded file; null takes it away. */
  setBacking(backing: AudioBuffer | Float32Array<ArrayBuffer> | null): void;
}

/** A player; `changed` hears when it ends by itself or has a problem, with its words. */
export function createPlayer(changed: (problem: string | null) => void): Player {
  let context: AudioContext | null = null;
  let node: AudioWorkletNode | null = null;
  let backing: AudioBuffer | null = null;
  let backingSource: AudioBufferSourceNode | null = null;
  /** Settled once the audio thread of the take is there; a press before that waits for it. */
  let opening: Promise<unknown> = Promise.resolve();
  /** Counts presses of play and stop, so that a press that waited knows whether it is still the last. */
  let presses = 0;
  let run: { atFrame: number; startSample: number; endSample: number } | null = null;
  const sound: Required<Omit<Sound, 'list'>> & { list: RegionList | null } = {
    list: null,
    listen: 'tamed',
    chain: null,
    backingOn: true,
    takeDb: 0,
    monitorDb: -12,
  };
  let gains: { take: GainNode; backing: GainNode; edge: GainNode; monitor: GainNode } | null = null;

  return {
    open(take) {
      this.stop();
      const opened = openContext(take);
      opening = opened.catch(() => {});
      return opened;
    },
    set(next) {
      const { list, listen, chain } = next;
      if (list !== undefined && list !== sound.list) node?.port.postMessage({ list });
      if (listen !== undefined && listen !== sound.listen) node?.port.postMessage({ listen });
      if (chain !== undefined && chain !== sound.chain) node?.port.postMessage({ chain });
      Object.assign(sound, next);
      if (context === null || gains === null) return;
      glide(gains.take, amplitudeFromDecibels(sound.takeDb));
      glide(gains.backing, sound.backingOn ? 1 : 0);
      glide(gains.monitor, amplitudeFromDecibels(sound.monitorDb));
    },
    async play(startSample, endSample) {
      const mine = ++presses;
      await opening;
      if (mine !== presses) return;
      if (context === null || node === null || gains === null) return;
      silence();
      await context.resume();
      const rate = context.sampleRate;
      // The worklet begins with a block of 128.
      const atFrame = 128 * Math.ceil(((context.currentTime + LEAD_SECONDS) * rate) / 128);
      run = { atFrame, startSample, endSample };
      node.port.postMessage({ run });
      const at = atFrame / rate;
      const until = at + (endSample - startSample) / rate;
      const { gain } = gains.edge;
      gain.cancelScheduledValues(0);
      gain.setValueAtTime(0, at);
      gain.linearRampToValueAtTime(1, at + FADE_SECONDS);
      gain.setValueAtTime(1, Math.max(at + FADE_SECONDS, until - FADE_SECONDS));
      gain.linearRampToValueAtTime(0, until);
      if (backing === null || startSample / rate >= backing.duration) return;
      backingSource = new AudioBufferSourceNode(context, { buffer: backing });
      backingSource.connect(gains.backing);
      backingSource.start(at, startSample / rate, (endSample - startSample) / rate);
    },
    stop() {
      presses++;
      if (run !== null) silence();
    },
    position() {
      if (context === null || run === null) return null;
      const frames = context.currentTime * context.sampleRate - run.atFrame;
      return Math.min(run.endSample, run.startSample + Math.max(0, Math.round(frames)));
    },
    async decode(file) {
      if (context === null) throw new Error('a take must be open first');
      return context.decodeAudioData(await file.arrayBuffer());
    },
    setBacking(next) {
      if (next instanceof Float32Array && context !== null) {
        backing = new AudioBuffer({ length: next.length, sampleRate: context.sampleRate });
        backing.copyToChannel(next, 0);
      } else backing = next as AudioBuffer | null;
      if (backing === null) backingSource?.stop();
    },
  };

  async function openContext(take: TakeInfo): Promise<MessagePort> {
    backing = null;
    await context?.close();
    // At the take's own rate nothing is resampled.
    context = new AudioContext({ sampleRate: take.sampleRateHz, latencyHint: 'interactive' });
    await context.audioWorklet.addModule(new URL('worklet/gain-worklet.js', document.baseURI));
    node = new AudioWorkletNode(context, 'take-player', {
      numberOfInputs: 0,
      outputChannelCount: [take.channelCount],
    });
    const gain = (): GainNode => (context as AudioContext).createGain();
    gains = { take: gain(), backing: gain(), edge: gain(), monitor: gain() };
    node.connect(gains.take).connect(gains.edge);
    gains.backing.connect(gains.edge);
    gains.edge.connect(gains.monitor).connect(context.destination);
    gains.monitor.gain.value = amplitudeFromDecibels(sound.monitorDb);
    node.port.onmessage = ({ data }) => {
      if (data === 'ended') halt(null);
      else if (data.problem !== undefined) halt(data.problem);
    };
    const { port1, port2 } = new MessageChannel();
    node.port.postMessage({ samplesFrom: port2, chain: sound.chain, listen: sound.listen }, [port2]);
    return port1;
  }

  function glide(node: GainNode, value: number): void {
    node.gain.setTargetAtTime(value, (context as AudioContext).currentTime, 0.01);
  }

  function silence(): void {
    if (context === null || gains === null) return;
    // The worklet fades itself out; the gain fades what plays beside it.
    const now = context.currentTime;
    gains.edge.gain.cancelScheduledValues(now);
    gains.edge.gain.setTargetAtTime(0, now, FADE_SECONDS / 3);
    node?.port.postMessage({ run: null });
    backingSource?.stop();
    backingSource = null;
    run = null;
  }

  function halt(problem: string | null): void {
    backingSource?.stop();
    backingSource = null;
    run = null;
    changed(problem);
  }
}
