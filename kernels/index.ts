/* Everything that the compiled module has to offer. */
export { pairPowers } from './frames';
export { blockPowers } from './powers';
export { filterRows, multiplyRows } from './rows';
