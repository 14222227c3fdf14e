import { gainToAudioParamEvents } from '../../src/exchange/gain-to-audio-param-events.js';
import { gainToCsv } from '../../src/exchange/gain-to-csv.js';
import { regionsFromJson } from '../../src/exchange/regions-from-json.js';
import { regionsToJson } from '../../src/exchange/regions-to-json.js';
import type { RegionList } from '../../src/regions/region.js';
import { problemLine } from '../lib/result.js';
import type { Player } from './playback/player.js';
import { withEdit } from './state/edit.js';
import { hasUnsavedEdits, type PageState, say } from './state/page-state.js';
import type { Store } from './state/store.js';
import type { TakeClient } from './take-client.js';
import { download, element } from './view/dom.js';
import { closeProblem, showProblems } from './view/problem.js';

/** What the buttons for files need. */
export interface FileTools {
  readonly store: Store<PageState>;
  readonly client: TakeClient;
  readonly player: Player;
  findAgain(): void;
}

/** Binds the buttons that open and write files, and dropping. */
export function bindFiles({ store, client, player, findAgain }: FileTools): void {
  const pick = (button: string, input: string, use: (file: File) => void): void => {
    const field = element(input, HTMLInputElement);
    element(button, HTMLButtonElement).addEventListener('click', () => field.click());
    field.addEventListener('change', () => {
      const file = field.files?.[0];
      // The same file may be chosen twice in a row.
      field.value = '';
      if (file !== undefined) use(file);
    });
  };
  pick('open-take', 'take-file', openFile);
  pick('open-regions', 'regions-file', (file) => void openRegions(file));
  element('open-built-in', HTMLButtonElement).addEventListener('click', () => openFile('built-in'));
  const backingFile = element('backing-file', HTMLInputElement);
  element('open-backing', HTMLButtonElement).addEventListener('click', () => {
    if (store.get().backingName === null) return backingFile.click();
    player.setBacking(null);
    store.update((state) => say({ ...state, backingName: null }, 'The backing track is removed.'));
  });
  backingFile.addEventListener('change', () => {
    const file = backingFile.files?.[0];
    backingFile.value = '';
    if (file !== undefined) void openBacking(file);
  });
  element('stop-finding', HTMLButtonElement).addEventListener('click', () => client.ask({ ask: 'stop' }));
  element('find-again', HTMLButtonElement).addEventListener('click', findAgain);
  element('close-problem', HTMLButtonElement).addEventListener('click', closeProblem);
  element('save-regions', HTMLButtonElement).addEventListener('click', () => {
    saveText(regionsToJson, 'regions.json', 'application/json');
    store.update((state) => ({ ...state, keptList: state.history?.present ?? null }));
  });
  element('save-points', HTMLButtonElement).addEventListener('click', () =>
    saveText(gainToCsv, 'gain.csv', 'text/csv'),
  );
  element('save-events', HTMLButtonElement).addEventListener('click', () =>
    saveText(
      (list) => JSON.stringify(gainToAudioParamEvents(list), null, 2),
      'gain.json',
      'application/json',
    ),
  );
  addEventListener('dragover', (event) => {
    event.preventDefault();
    document.body.classList.add('dropping');
  });
  addEventListener('dragleave', () => document.body.classList.remove('dropping'));
  addEventListener('drop', (event) => {
    event.preventDefault();
    document.body.classList.remove('dropping');
    const file = event.dataTransfer?.files[0];
    if (file !== undefined) openFile(file);
  });

  function openFile(source: File | 'built-in'): void {
    if (
      hasUnsavedEdits(store.get()) &&
      !confirm('Edits of the open take are not saved. Open another all the same?')
    )
      return;
    const status = source === 'built-in' ? 'Singing.' : `Reading ${source.name}.`;
    store.update((state) => ({ ...say(state, status), phase: 'opening' }));
    client.ask({ ask: 'open', source });
  }

  async function openBacking(file: File): Promise<void> {
    try {
      player.setBacking(await player.decode(file));
      store.update((state) =>
        say({ ...state, backingName: file.name, backingOn: true }, `${file.name} plays beside the take.`),
      );
    } catch {
      showProblems(`open ${file.name}`, ['it is not a sound file that this browser can read']);
    }
  }

  async function openRegions(file: File): Promise<void> {
    const read = regionsFromJson(await file.text());
    const { take } = store.get();
    if (!read.ok) return showProblems(`open ${file.name}`, read.problems.map(problemLine));
    const { sampleRateHz, lengthSamples } = read.value;
    if (take === null || sampleRateHz !== take.sampleRateHz || lengthSamples !== take.lengthSamples)
      return showProblems(`open ${file.name}`, [
        `its regions belong to another take, of ${lengthSamples} samples at ${sampleRateHz} Hz`,
      ]);
    store.update((state) => withEdit(state, read.value, `Regions of ${file.name}`));
  }

  function saveText(write: (list: RegionList) => string, end: string, type: string): void {
    const list = store.get().history?.present;
    if (list === undefined) return;
    download(write(list), fileName(store.get(), end), type);
    store.update((state) => say(state, `${fileName(store.get(), end)} is written.`));
  }
}

/** What a file that belongs to the take is called. */
export function fileName({ take }: PageState, end: string): string {
  return `${(take?.name ?? 'take').replace(/\.wav$/i, '')}.${end}`;
}
