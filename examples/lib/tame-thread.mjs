// A thread starts without the loader for TypeScript; this file brings it and hands over.
import { tsImport } from 'tsx/esm/api';

const { tameOneFile } = await tsImport('./tame-one-file.ts', import.meta.url);

export default tameOneFile;
