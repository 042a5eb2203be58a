/** Files that the server reads by itself. */
import { fileURLToPath } from 'node:url';
import { DISK, readFolder, readText } from '../book/disk.ts';
import type { Files } from './files.ts';

export const DISK_FILES: Files = {
  host: DISK,
  async folder(uri) {
    const { texts, unread } = readFolder(fileURLToPath(uri));
    return { texts, unread: unread.map(({ path, message }) => `${path} ${message}`) };
  },
  async text(uri, within) {
    try {
      const read = readText(fileURLToPath(uri), within === undefined ? undefined : fileURLToPath(within));
      return 'text' in read ? read.text : undefined;
    } catch {
      // A URI of another scheme is no file of this machine.
      return undefined;
    }
  },
  async changed() {},
  reading: (work) => work(DISK.read),
  async lookUp() {
    return false;
  },
};
