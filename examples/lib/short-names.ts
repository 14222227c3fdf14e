/**
 * What tells the names of takes apart: without the ending, and without what all of them begin with up to a separator.
 * Names that would be empty or equal stay whole.
 */
export function shortNames(names: readonly string[]): readonly string[] {
  const plain = names.map((name) => name.replace(/(?<=.)\.wave?$/i, ''));
  const [first = ''] = plain;
  let shared = 0;
  while (shared < first.length && plain.every((name) => name[shared] === first[shared])) shared++;
  const cut = /^.*[-_ .]/.exec(first.slice(0, shared))?.[0].length ?? 0;
  const short = plain.map((name) => name.slice(cut));
  const distinct = new Set(short).size === names.length && short.every((name) => name !== '');
  return distinct ? short : names;
}
