// A second copy of the journal's entries, on the disk.
//
// The browser writes localStorage down when it likes: Chromium some seconds after the first change and, to spare the disk, up to a minute after later ones. A browser that is killed, or a tablet whose
// battery is empty, would take what was typed since with it. A transaction of IndexedDB can be asked to be on the disk before it is done; but IndexedDB cannot be read at once, which the journal needs.
// So localStorage stays what the journal works with, and this copy is looked at once, when a page begins (journal.js, restore).
window.durable = (() => {
  const ENTRIES = 'entries';
  const changes = new Map(); // Key to entry; undefined where it is to go.
  let database, writing = false;

  const open = () => database ??= new Promise((done, failed) => {
    const request = indexedDB.open('shop-journal', 1);
    request.onupgradeneeded = () => request.result.createObjectStore(ENTRIES);
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });

  const ended = transaction => new Promise((done, failed) => {
    transaction.oncomplete = done;
    transaction.onerror = transaction.onabort = () => failed(transaction.error);
  });

  // One transaction at a time: what changes meanwhile goes in the next, each key once.
  async function write() {
    if (writing) return;
    writing = true;
    try {
      while (changes.size) {
        const transaction = (await open()).transaction(ENTRIES, 'readwrite', { durability: 'strict' }), entries = transaction.objectStore(ENTRIES);
        changes.forEach((entry, key) => entry === undefined ? entries.delete(key) : entries.put(entry, key));
        changes.clear();
        await ended(transaction);
      }
    } catch {
      changes.clear(); // Storage forbidden or full: the journal then has its first copy only.
    } finally {
      writing = false;
    }
  }

  async function all() {
    try {
      const transaction = (await open()).transaction(ENTRIES, 'readonly'), entries = transaction.objectStore(ENTRIES);
      const keys = entries.getAllKeys(), values = entries.getAll();
      await ended(transaction);
      return keys.result.map((key, i) => [key, values.result[i]]);
    } catch {
      return [];
    }
  }

  function change(key, entry) { changes.set(key, entry); write(); }
  return { set: change, drop: key => change(key, undefined), all };
})();
