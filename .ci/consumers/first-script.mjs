import { readFileSync, writeFileSync } from 'node:fs';
import { detectConsonants, fixedCut, placeEdges, renderGain } from 'lenition';
import wavefile from 'wavefile';

const wav = new wavefile.WaveFile(readFileSync('vocal.wav'));
const fullScale = wav.bitDepth === '32f' ? 1 : 2 ** (Number(wav.bitDepth) - 1);
const channels = [wav.getSamples()].flat().map((codes) => Float32Array.from(codes, (x) => x / fullScale));
const found = detectConsonants(channels, { sampleRateHz: wav.fmt.sampleRate });
const list = fixedCut(placeEdges(found, channels), { gainDb: -6 });
const tamed = renderGain(channels, list);
const out = new wavefile.WaveFile();
out.fromScratch(tamed.length, list.sampleRateHz, '32f', tamed.length === 1 ? tamed[0] : tamed);
writeFileSync('vocal.tamed.wav', out.toBuffer());
