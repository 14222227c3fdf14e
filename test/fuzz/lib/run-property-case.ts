import fc from 'fast-check';
import type { Samples } from '../../../src/signal/samples.js';
import { checkValue } from './check-value.js';
import { type Spoiler, spoilt } from './damage-arguments.js';
import { Breach, must, shown } from './failure.js';
import { fingerprint } from './fingerprint.js';
import type { Property } from './property.js';

/** How a case ended that broke no rule. */
export type Ending = 'taken' | 'refused';

type Mode = 'sound' | 'twice' | 'spoilt' | 'exchanged' | 'notFinite';

interface Draw {
  readonly dice: number;
  readonly args: readonly unknown[];
  readonly spoiler: Spoiler;
}

/** What a case is made from; one draw of it is one case. */
function draws(property: Property): fc.Arbitrary<Draw> {
  return fc.record({
    dice: fc.nat(99),
    args: property.sound,
    spoiler: fc.record({ pick: fc.nat(), value: fc.nat() }),
  });
}

/** Runs the case of that seed: 6 in 10 with sound arguments, 3 with a wrong one, 1 with a sample that is not finite. */
export function runPropertyCase(name: string, property: Property, seed: number): Ending {
  const [draw] = fc.sample(draws(property), { seed, numRuns: 1 });
  return runDraw(name, property, draw!);
}

/** The arguments of a case before anything is done with them. */
export function drawnCase(property: Property, seed: number): string {
  const [draw] = fc.sample(draws(property), { seed, numRuns: 1 });
  return fc.stringify(draw).slice(0, 3000);
}

/** The smallest arguments found in a few seconds that break a rule too, for a person to read. */
export function smallestCase(name: string, property: Property, seed: number): string {
  const outcome = fc.check(
    fc.property(draws(property), (draw) => {
      runDraw(name, property, draw);
    }),
    { seed, numRuns: 1, interruptAfterTimeLimit: 5000, markInterruptAsFailure: false },
  );
  return outcome.counterexample === null
    ? 'not found again'
    : fc.stringify(outcome.counterexample[0]).slice(0, 3000);
}

function runDraw(name: string, property: Property, { dice, args, spoiler }: Draw): Ending {
  if (dice >= 70 && property.noWrongArguments === undefined) {
    const wrong = spoilt(args, spoiler, property.made);
    return attempt(name, property, wrong.args, wrong.exchanged ? 'exchanged' : 'spoilt');
  }
  if (dice >= 60 && property.audio !== undefined) {
    const broken = withBadSample(args, property.audio[0], spoiler);
    if (broken !== undefined) return attempt(name, property, broken.args, 'notFinite', broken.index);
  }
  return attempt(name, property, args, dice % 8 === 0 ? 'twice' : 'sound');
}

function attempt(name: string, property: Property, args: readonly unknown[], mode: Mode, index = -1): Ending {
  const { outputs = [], audio } = property;
  const kept = args.map((arg, i) => (outputs.includes(i) ? null : fingerprint(arg)));
  let result: unknown;
  let thrown: unknown;
  let threw = false;
  try {
    result = (property.call as (...a: unknown[]) => unknown)(...args);
  } catch (error) {
    threw = true;
    thrown = error;
  }
  for (const [i, arg] of args.entries())
    if (kept[i] !== null) must(kept[i] === fingerprint(arg), `argument ${i} must not be changed`);
  if (threw) {
    if (thrown instanceof Breach) throw thrown;
    checkRefusal(name, property, thrown, mode);
    if (mode === 'notFinite')
      must(
        (thrown as Error).message.includes(`[${index}]`) ||
          property.mayRefuse?.test((thrown as Error).message) === true,
        `the refusal must name sample ${index}`,
        (thrown as Error).message,
      );
    return 'refused';
  }
  if (mode === 'notFinite') {
    must(audio?.[1] !== 'all', `a sample that is not finite must be refused (index ${index})`);
    return 'taken';
  }
  if (mode !== 'exchanged') checkValue(result, property);
  if (mode === 'spoilt' || mode === 'exchanged') return 'taken';
  (property.check as ((...a: unknown[]) => void) | undefined)?.(result, ...args);
  for (const [i, arg] of args.entries())
    if (kept[i] !== null)
      must(kept[i] === fingerprint(arg), `argument ${i} must not be changed by a later use`);
  if (mode === 'twice' && property.repeats !== false && outputs.length === 0) {
    const first = fingerprint(result);
    const again = (property.call as (...a: unknown[]) => unknown)(...args);
    must(first === fingerprint(again), 'the same arguments must give the same result');
  }
  return 'taken';
}

/** How every refusal of the library reads. */
const REFUSAL = /^[\w$.]+: .+; received .+$/s;

/** A refusal is a RangeError or TypeError that names function, parameter, rule and value; sound arguments have none but those stated. */
function checkRefusal(name: string, { mayRefuse }: Property, thrown: unknown, mode: string): void {
  const known = thrown instanceof RangeError || thrown instanceof TypeError;
  if (!known) throw thrown;
  const { message } = thrown;
  const speaker = message.slice(0, message.indexOf(':'));
  const formed = REFUSAL.test(message);
  if (!formed || speaker !== name) {
    const error = new Breach(
      `a refusal must read "${name}: parameter rule; received value"; received ${shown(message)}`,
    );
    error.stack = `${error.message}\n${thrown.stack?.split('\n').slice(1, 6).join('\n')}`;
    throw error;
  }
  if (mode !== 'sound' && mode !== 'twice') return;
  must(mayRefuse?.test(message) === true, 'sound arguments must be taken', message);
}

function withBadSample(
  args: readonly unknown[],
  argument: number,
  { pick, value }: Spoiler,
): { args: readonly unknown[]; index: number } | undefined {
  const audio = args[argument] as Samples | readonly Samples[] | null;
  if (audio === null) return undefined;
  const list = audio instanceof Float32Array ? [audio] : audio;
  const channel = list[value % list.length]!;
  if (channel.length === 0) return undefined;
  const index = pick % channel.length;
  const spoiltChannel = channel.slice();
  spoiltChannel[index] = [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY][value % 3]!;
  const channels = list.map((c, i) => (i === value % list.length ? spoiltChannel : c));
  const spoiltAudio = audio instanceof Float32Array ? spoiltChannel : channels;
  return { args: args.map((arg, i) => (i === argument ? spoiltAudio : arg)), index };
}
