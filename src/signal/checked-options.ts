import { checkFields, checkObject } from './check.js';
import { withDefaults } from './with-defaults.js';

/**
 * The options of a function with what they leave out; names are those of fields that have no default. Throws unless they are an object, and where a field is neither one of the defaults
 * nor one of the others: a setting that is misspelt must not silently do nothing.
 */
export function checkedOptions<D extends object, S extends object>(
  functionName: string,
  defaults: D,
  options: S,
  ...others: [Exclude<keyof S, keyof D>] extends [never] ? [] : [names: readonly (keyof S & string)[]]
): D & Omit<S, keyof D> {
  checkObject(functionName, 'options', options);
  checkFields(functionName, 'options', options, [...Object.keys(defaults), ...(others[0] ?? [])]);
  return withDefaults(defaults, options);
}
