/** Words that stand before something that nobody else should read, as query, header or setting. */
const secretWords =
  /\b(password|passwd|secret|token|code|cookie|authorization|session)(["']?\s*[=:]\s*["']?)[^\s"'&,;]+/gi;
const userInAddress = /(\b[a-z][a-z0-9+.-]*:\/\/)[^\s/@]+@/gi;

/** The text without passwords in addresses and without what follows such words; for logs and for what is sent to others. */
export function withoutSecrets(text: string): string {
  return text.replace(userInAddress, '$1***@').replace(secretWords, '$1$2***');
}
