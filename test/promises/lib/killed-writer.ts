/** Run by whole-files.test.ts: writes to the file that it is given and is killed when half of it is on the disk. */
import { writeWhole } from '../../../examples/lib/write-file.js';

function* pieces(): Generator<Uint8Array> {
  for (let i = 0; i < 64; i++) yield new Uint8Array(65_536).fill(i);
  // No handler can run: as in a crash, or where a person ends the program by force.
  process.kill(process.pid, 'SIGKILL');
  // The signal may take a moment.
  for (;;) Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 1000);
}

writeWhole(process.argv[2] as string, pieces());
