/** What of WebAssembly the tests use: the types of Node name none of it. */
export interface PlatformWebAssembly {
  readonly Memory: unknown;
  readonly Module: {
    new (bytes: Uint8Array): object;
    imports(
      module: object,
    ): readonly { readonly module: string; readonly name: string; readonly kind: string }[];
    exports(module: object): readonly { readonly name: string }[];
  };
}

/** WebAssembly of this platform. */
export function platformWebAssembly(): PlatformWebAssembly {
  return (globalThis as unknown as { readonly WebAssembly: PlatformWebAssembly }).WebAssembly;
}
