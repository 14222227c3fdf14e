/** The gain of a take as calls to a Web Audio gain: from its start, from within a fade, and deeper for a reverb send. */
import { detectConsonants } from '../src/detection/detect-consonants.js';
import type { AudioParamEvent } from '../src/exchange/audio-param-event.js';
import { gainToAudioParamEvents } from '../src/exchange/gain-to-audio-param-events.js';
import { fixedCut } from '../src/gain/fixed-cut.js';
import { placeEdges } from '../src/gain/place-edges.js';
import { setBand } from '../src/regions/set-band.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';

const { sampleRateHz, takes } = makeDemonstration();
const lead = takes[0]!.samples;
const found = detectConsonants(lead, { sampleRateHz });
// Fades straight in decibels are one ramp each; raised cosines would be up to 64.
const cut = fixedCut(placeEdges(found, lead, { fadeShape: 'decibel' }));
const [first, second] = cut.regions.filter(({ kind }) => kind === 'sibilant');

// The player's loop, for a gain in a browser: for (const event of events) gain[event.method](...event.args);
function show(events: readonly AudioParamEvent[]): void {
  for (const { method, args } of events)
    console.log(`  ${args[1].toFixed(6)} s  ${args[0].toFixed(4)}  ${method}`);
}

const whole = gainToAudioParamEvents(cut, { startTimeSeconds: 1 });
console.log(`the take, heard from 1 s on: ${whole.events.length} events; the first sibilant`);
show(whole.events.slice(0, 5));

const offsetSample = first!.startSample + Math.round(first!.fadeInSamples / 2);
console.log('from within its first fade');
show(gainToAudioParamEvents(cut, { startTimeSeconds: 1, offsetSample }).events.slice(0, 3));

console.log('twice as deep, for a reverb that hears the take without the cut');
show(gainToAudioParamEvents(cut, { startTimeSeconds: 1, depth: 2 }).events.slice(1, 5));

const banded = setBand(cut, second!.id, { lowHz: 5000, highHz: sampleRateHz / 2 });
const { left } = gainToAudioParamEvents(banded);
console.log(`with a band on region ${second!.id}, left to be rendered: ${left.join(', ')}`);
