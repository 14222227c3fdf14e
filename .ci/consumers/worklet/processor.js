// An audio worklet resolves no bare names: it imports the published file by its address, as a page without a bundler does.
import { createGainRenderer } from '../node_modules/lenition/dist/gain.js';

class GainProcessor extends AudioWorkletProcessor {
  constructor({ processorOptions }) {
    super();
    this.renderer = createGainRenderer(processorOptions.list);
  }

  process([input], [output]) {
    if (input.length > 0) this.renderer.pushInto(output, input);
    return true;
  }
}

registerProcessor('lenition-gain', GainProcessor);
