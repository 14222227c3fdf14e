import { cpus, loadavg } from 'node:os';

/** The machine that figures were measured on, and how busy it was. */
export function machineLine(): string {
  const cores = cpus();
  // Some systems do not tell the model.
  const model = cores[0]?.model.trim() || 'processor of unknown name';
  const load = loadavg()[0] as number;
  return `${model}, ${cores.length} ${cores.length === 1 ? 'core' : 'cores'}, Node ${process.versions.node}; ${load.toFixed(0)} processes wanted to run at the start.`;
}
