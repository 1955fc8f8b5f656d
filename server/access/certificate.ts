import { createPrivateKey, X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createSecureContext } from 'node:tls';

/** Certificate and key for https, as PEM text. */
export interface Certificate {
  cert: string;
  key: string;
}

/** The files cannot be used; the message says why and what to do. */
export class CertificateError extends Error {
  override name = 'CertificateError';
}

function textOf(path: string, what: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch (error) {
    throw new CertificateError(`The ${what} could not be read: ${(error as Error).message}.`);
  }
}

/**
 * Reads both files and sees whether they belong together.
 * @throws CertificateError with a sentence for the terminal.
 */
export function readCertificate(certPath: string, keyPath: string): Certificate {
  const certificate = {
    cert: textOf(certPath, 'certificate'),
    key: textOf(keyPath, 'key of the certificate'),
  };
  try {
    createSecureContext(certificate);
    if (!new X509Certificate(certificate.cert).checkPrivateKey(createPrivateKey(certificate.key))) {
      throw new Error('the key belongs to another certificate');
    }
  } catch (error) {
    throw new CertificateError(
      `The certificate ${certPath} and the key ${keyPath} cannot be used together: ${(error as Error).message}. Both must be PEM, the key without a password.`,
    );
  }
  return certificate;
}
