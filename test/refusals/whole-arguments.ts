/** What stands in the place of a whole argument; made afresh, since a function might write to it. */
export const WRONG_WHOLES: Readonly<Record<string, () => unknown>> = {
  nothing: () => undefined,
  null: () => null,
  'a number': () => 42,
  'a text': () => 'text',
  'an empty list': () => [],
  'an empty object': () => ({}),
  samples: () => new Float32Array(4800),
};

/** Calls with too little or with one argument exchanged as a whole, each with words for it. */
export function* wrongCalls(
  sound: readonly unknown[],
): Generator<readonly [args: readonly unknown[], words: string]> {
  for (let n = 0; n < sound.length; n++) yield [sound.slice(0, n), `${n} of ${sound.length} arguments`];
  for (const [words, make] of Object.entries(WRONG_WHOLES)) {
    yield [[make()], `${words} alone`];
    for (let i = 0; i < sound.length; i++)
      yield [sound.map((arg, k) => (k === i ? make() : arg)), `${words} as argument ${i}`];
  }
}

/** What is wrong with how a call ended: undefined where it was taken, or refused in the library's words under that name. */
export function faultOf(
  name: string,
  call: (...args: unknown[]) => unknown,
  args: readonly unknown[],
): string | undefined {
  try {
    call(...args);
  } catch (error) {
    if (!(error instanceof TypeError || error instanceof RangeError)) return `neither kind: ${error}`;
    const { message } = error;
    return message.startsWith(`${name}: `) && /; received [^;]+$/.test(message) ? undefined : message;
  }
  return undefined;
}
