// Runs in the browser's audio thread: mixes the channels to one and hands over blocks of a tenth of a second as 16-bit samples.
class SoundBlock extends AudioWorkletProcessor {
  constructor() {
    super();
    this.size = Math.round(sampleRate / 10);
    this.block = new Int16Array(this.size);
    this.filled = 0;
  }

  process(inputs) {
    const channels = inputs[0];
    // No input for a moment is silence, so that the clock of the recording goes on.
    const frames = channels[0]?.length ?? 128;
    for (let i = 0; i < frames; i++) {
      let sum = 0;
      for (const channel of channels) sum += channel[i];
      const sample = channels.length ? sum / channels.length : 0;
      this.block[this.filled++] = Math.max(-32768, Math.min(32767, Math.round(sample * 32768)));
      if (this.filled === this.size) {
        this.port.postMessage(this.block.buffer, [this.block.buffer]);
        this.block = new Int16Array(this.size);
        this.filled = 0;
      }
    }
    return true;
  }
}
registerProcessor('sound-block', SoundBlock);
