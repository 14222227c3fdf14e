import type { ProtobufModule } from './neural-packages.js';

/** The part of ONNX's file format (onnx.proto, an open standard) that a cut needs; the rest passes through as bytes. */
const FORMAT = `syntax = "proto2";
message Value { optional string name = 1; optional bytes type = 2; }
message Node { repeated string input = 1; repeated string output = 2; optional string name = 3; optional string op_type = 4;
  repeated bytes attribute = 5; optional string domain = 7; }
message Graph { repeated Node node = 1; optional string name = 2; repeated bytes initializer = 5; repeated Value input = 11;
  repeated Value output = 12; }
message Opset { optional string domain = 1; optional int64 version = 2; }
message Model { optional int64 ir_version = 1; optional Graph graph = 7; repeated Opset opset_import = 8; }`;

interface Value {
  readonly name: string;
  readonly type: Uint8Array;
}
interface Node {
  readonly input: readonly string[];
  output: string[];
}
interface Graph {
  node: Node[];
  input: Value[];
  output: Value[];
}

/** A list of numbers inside a network, `1 × n` or `1 × 1 × n`. */
export interface InnerList {
  readonly name: string;
  readonly dimensions: 2 | 3;
}

/**
 * A network without what comes before `inputs` (they are handed in instead) and, where `outputs` is given, without what comes
 * after: what a synthesiser works out on its way can then be read and replaced.
 */
export function cutGraph(
  protobuf: ProtobufModule,
  network: Uint8Array,
  inputs: readonly InnerList[],
  outputs: readonly InnerList[] | null,
): Uint8Array {
  const format = protobuf.parse(FORMAT, { keepCase: true }).root.lookupType('Model');
  const model = format.decode(network) as { graph: Graph };
  const { graph } = model;
  for (const { name } of inputs)
    for (const node of graph.node)
      node.output = node.output.map((output) => (output === name ? `${name} unused` : output));
  graph.input.push(...inputs.map(asValue));
  if (outputs !== null) graph.output = outputs.map(asValue);
  keepWhatIsNeeded(graph);
  return format.encode(model).finish();
}

function keepWhatIsNeeded(graph: Graph): void {
  const makerOf = new Map(graph.node.flatMap((node) => node.output.map((name) => [name, node] as const)));
  const needed = new Set<string>();
  const kept = new Set<Node>();
  const open = graph.output.map(({ name }) => name);
  for (let name = open.pop(); name !== undefined; name = open.pop()) {
    if (needed.has(name)) continue;
    needed.add(name);
    const node = makerOf.get(name);
    if (node === undefined) continue;
    kept.add(node);
    open.push(...node.input);
  }
  graph.node = graph.node.filter((node) => kept.has(node));
  graph.input = graph.input.filter(({ name }) => needed.has(name));
}

/** TypeProto of a tensor of float32 whose last length is free: fields are a tag, a length and bytes. */
function asValue({ name, dimensions }: InnerList): Value {
  const field = (tag: number, bytes: readonly number[]): number[] => [tag, bytes.length, ...bytes];
  const one = field(0x0a, [0x08, 1]);
  const free = field(0x0a, field(0x12, [0x6e]));
  const shape = [...Array.from({ length: dimensions - 1 }, () => one).flat(), ...free];
  return { name, type: Uint8Array.from(field(0x0a, [0x08, 1, ...field(0x12, shape)])) };
}
