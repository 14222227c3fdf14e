/**
 * Runs on the audio thread, which is never late. Holds the loudest mean power of 2048 samples since it was last told to forget, how long
 * it was until something sounded (-100 dB), and for how long nothing has sounded now; tells them whenever it is asked.
 */
registerProcessor(
  'loudest',
  class extends AudioWorkletProcessor {
    constructor() {
      super();
      this.forget();
      this.port.onmessage = ({ data }) => {
        if (data === 'forget') this.forget();
        const seconds = (blocks) => (128 * blocks) / sampleRate;
        this.port.postMessage({
          power: this.most,
          silentFirstSeconds: seconds(this.silentFirst ?? this.silentBlocks),
          silentSeconds: seconds(this.silentBlocks),
        });
      };
    }

    forget() {
      this.powers = new Array(16).fill(0);
      this.most = 0;
      this.silentBlocks = 0;
      this.silentFirst = null;
    }

    process([channels]) {
      let power = 0;
      for (const channel of channels) for (const x of channel) power += (x * x) / (128 * channels.length);
      this.powers.shift();
      this.powers.push(power);
      this.most = Math.max(
        this.most,
        this.powers.reduce((sum, x) => sum + x / 16, 0),
      );
      if (power >= 1e-10) {
        this.silentFirst ??= this.silentBlocks;
        this.silentBlocks = 0;
      } else this.silentBlocks++;
      return true;
    }
  },
);
