/** The library in an audio worklet: the ES module as published, imported by the processor's own module. */
import { createBandGainRenderer, createGainRenderer } from '/lib/gain.js';

class GainProcessor extends AudioWorkletProcessor {
  constructor({ processorOptions: { list, startSample, banded } }) {
    super();
    this.renderer = (banded ? createBandGainRenderer : createGainRenderer)(list, { startSample });
  }

  process([input], [output]) {
    // After its end a source has no channels; the renderer of bands still owes its last samples.
    const block = input.length > 0 ? input : output.map((channel) => new Float32Array(channel.length));
    this.renderer.pushInto(output, block);
    return true;
  }
}

registerProcessor('gain', GainProcessor);
