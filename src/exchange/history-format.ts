/** The name that a history file gives itself. */
export const HISTORY_FORMAT = 'lenition.history';

/** The version of the history file that this library writes and reads. */
export const HISTORY_FORMAT_VERSION = 1;
