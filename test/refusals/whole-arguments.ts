/** What stands in the place of a whole argument; made afresh, since a function might write to it. */
const WRONG_WHOLES: Readonly<Record<string, () => unknown>> = {
  nothing: () => undefined,
  null: () => null,
  'a number': () => 42,
  'a text': () => 'text',
  'an empty list': () => [],
  'an empty object': () => ({}),
  samples: () => new Float32Array(4800),
};

/** A call with something wrong in it, and words for what. */
export interface WrongCall {
  readonly args: readonly unknown[];
  readonly words: string;
}

/** Calls with too few arguments, with one wrong one alone, and with each of sound ones exchanged as a whole. */
export function* wrongCalls(sound: readonly unknown[]): Generator<WrongCall> {
  for (let n = 0; n < sound.length; n++)
    yield { args: sound.slice(0, n), words: `${n} of ${sound.length} arguments` };
  for (const [what, make] of Object.entries(WRONG_WHOLES)) {
    yield { args: [make()], words: `${what} alone` };
    yield { args: [new Float32Array(4800), make()], words: `samples and ${what}` };
    for (let i = 0; i < sound.length; i++)
      yield { args: sound.map((arg, k) => (k === i ? make() : arg)), words: `${what} as argument ${i}` };
  }
}

/**
 * What is wrong with how a call ends: nothing where it is taken, or where it is refused as the library refuses: a TypeError or RangeError that
 * begins with the name of the function that was called and ends with what was received.
 */
export function faultOf(
  name: string,
  call: (...args: unknown[]) => unknown,
  args: readonly unknown[],
): string | undefined {
  try {
    call(...args);
    return undefined;
  } catch (error) {
    if (!(error instanceof TypeError || error instanceof RangeError)) return `${error}`;
    const { message } = error;
    return message.startsWith(`${name}: `) && /; received [^;]+$/.test(message) ? undefined : message;
  }
}
