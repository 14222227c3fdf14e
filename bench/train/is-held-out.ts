/** Whether one of a clip's voices is among those named, by its own name (FOLDER:SPEAKER) or by its folder's. */
export function isHeldOut(voices: readonly string[], names: readonly string[]): boolean {
  return voices.some((voice) => names.includes(voice) || names.includes(voice.split(':')[0] as string));
}
