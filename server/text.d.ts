// Tables and registers are bundled as text (esbuild's text loader; a plugin in vitest.config.ts).
declare module '*.csv' {
  const text: string;
  export default text;
}
declare module '*.tare' {
  const text: string;
  export default text;
}
