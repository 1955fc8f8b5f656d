const secretWord = '(?:password|passwd|pwd|passphrase|secret|token|code|session|api_?key|auth)';
const quoted = `"(?:[^"\\\\]|\\\\.)*"|'(?:[^'\\\\]|\\\\.)*'`;
/** Such words stand before something that nobody else should read, as query or setting; what follows may be quoted, with blanks in it. */
const secretPairs = new RegExp(
  `((?:\\b|_|ssl)${secretWord}["']?\\s*[=:]\\s*)(${quoted}|["']?[^\\s"'&,;]+)`,
  'gi',
);
/** Headers whose whole line is one. */
const secretHeaders = new RegExp(
  `(\\b(?:cookie|authorization)["']?\\s*[=:]\\s*)(${quoted}|[^\\r\\n"']+)`,
  'gi',
);
/** Up to the last @: a password may hold one, or a stroke. */
const userInAddress = /(\b[a-z][a-z0-9+.-]*:\/\/)[^\s"'<>]*@/gi;
const secretName = new RegExp(`(?:^|_)(?:${secretWord}|cookie)(?:$|_)`, 'i');

/** The quotes around it stay. */
const hidden = (_: string, before: string, secret: string): string => {
  const quote = /^["']/.exec(secret)?.[0] ?? '';
  return `${before}${quote}***${secret.length > 1 && secret.endsWith(quote) ? quote : ''}`;
};

/** The text without passwords in addresses and without what follows such words; for logs and for what is sent to others. */
export function withoutSecrets(text: string): string {
  return text.replace(userInAddress, '$1***@').replace(secretHeaders, hidden).replace(secretPairs, hidden);
}

/** The value of a setting of the environment, or nothing of it where its name says that it is a secret. */
export const settingWithoutSecrets = (name: string, value: string): string =>
  secretName.test(name) ? '***' : withoutSecrets(value);
