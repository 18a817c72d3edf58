export function findChromium(): string | undefined;
export const chromiumAdvice: string;
export const chromiumFlags: string[];
