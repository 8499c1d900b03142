// Entries that the workshop computer has not answered for yet. They wait in IndexedDB on this device and
// leave it only when the record has them, or when a person leaves a refused one out.
"use strict";

const outbox = (() => {
  const open = () => new Promise((resolve, reject) => {
    const asked = indexedDB.open("endfloat-outbox", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("entries", { keyPath: "place", autoIncrement: true });
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
  const run = async (mode, deed) => {
    const database = await open();
    return new Promise((resolve, reject) => {
      const change = database.transaction("entries", mode, { durability: "strict" });
      const asked = deed(change.objectStore("entries"));
      change.oncomplete = () => { database.close(); resolve(asked.result); };
      change.onabort = change.onerror = () => { database.close(); reject(change.error); };
    });
  };
  return {
    add: (entry) => run("readwrite", (store) => store.add(entry)),
    put: (entry) => run("readwrite", (store) => store.put(entry)),
    remove: (entry) => run("readwrite", (store) => store.delete(entry.place)),
    all: () => run("readonly", (store) => store.getAll()),
  };
})();
