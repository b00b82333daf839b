/** Lets whatever else the process has to do go first. The embedded database answers at once, so long work over it would never pause by itself. */
export const breathe = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
