/** Holds the one value that changes: which state is the present one. */
export interface Store<State> {
  get(): State;
  /** Puts a new state in place of the old; listeners hear of it where it is another one. */
  update(change: (state: State) => State): void;
  listen(listener: (state: State, before: State) => void): void;
}

/** A store that begins with a state. */
export function createStore<State>(initial: State): Store<State> {
  let state = initial;
  const listeners: ((state: State, before: State) => void)[] = [];
  return {
    get: () => state,
    update(change) {
      const before = state;
      state = change(before);
      if (state === before) return;
      for (const listener of listeners) listener(state, before);
    },
    listen(listener) {
      listeners.push(listener);
    },
  };
}
