// The journal: nothing typed is ever lost.
//
// A Blazor circuit that reconnects comes back to the server's state, not to what stands in the browser's fields; one that
// dies takes the text with it. So what a person enters is written down here, on the tablet, before Blazor sees the event,
// and stays until the server says that it has it.
//
// DRAFTS: the text of a field. Any <input>, <textarea> or <select>, or a <fieldset> of radio buttons or check boxes, takes
// part by carrying
//   data-draft="<record>:<id>:<field>"   its key, the same after a reload (order:<guid>:ConcernText)
//   data-saved="..."                     the value the database has; absent for a text that is not a field of the database
//                                        (the number pad: what is typed becomes a reading only when it is entered)
//   data-ack="<n>"                       the number of the latest entry that the server has dealt with
//   data-auto                            the server can save it without the page (Saving/DraftReplay.cs)
//   data-private                         personal data: in the browser's storage only sealed, with a key that the server hands to this page (Saving/TabletKey.cs) and that is kept nowhere else;
//                                        where the browser has no encryption (http beyond this machine), in this page's memory only
// On every input event an entry { v: text, n: running number, t: time, id: command id, base: data-saved when typing began }
// is written, and only then does Blazor get its event: the custom event "onjournalled", which carries the entry
// (Saving/JournalledEventArgs.cs). An entry goes when data-ack reaches its number. An entry still there when its field
// appears (reload, killed server, number pad moving to the next cell: the key changes on the same element) or when the
// connection comes back is put into the field again and its event is sent again. Repeating is harmless: the command id
// is the same.
//
// COMMANDS: what is not a field (a reading entered, a step of the order). journal.command(kind, id, payload) before the
// server acts, journal.done(id) after. Commands still there when the page starts or the connection comes back are handed
// to the server again (Saving/CommandJournal.cs); the server knows the id and does nothing twice.
window.journal = (() => {
  // Entries belong to the person who was signed in when they were made: another one on the same tablet neither sees nor sends them.
  const person = document.body.dataset.person ?? '';
  const ALL_DRAFTS = 'sd:draft:', ALL_COMMANDS = 'sd:command:', ALL_SEALED = 'sd:sealed:', NAMES = 'sd:name:', NUMBER = 'sd:n', OWN_TAB_MS = 10000, MESSAGE = 100000;
  const DRAFT = `${ALL_DRAFTS}${person}|`, COMMAND = `${ALL_COMMANDS}${person}|`, SEALED = `${ALL_SEALED}${person}|`;
  const privateDrafts = new Map();
  let number = 0, replaying = false, savedAt = null, server = null;
  const listeners = [], others = [];

  // ---- storage -------------------------------------------------------------------------------------------------
  const store = {
    get: key => { try { return JSON.parse(localStorage.getItem(key)); } catch { return null; } },
    set: (key, value) => { try { localStorage.setItem(key, JSON.stringify(value)); return true; } catch { return false; } },
    drop: key => { try { localStorage.removeItem(key); } catch { /* nothing there to drop */ } },
    // An entry also goes to the disk (durable.js): what is in localStorage alone dies with a killed browser.
    keep: (key, entry) => { durable.set(key, entry); return store.set(key, entry); },
    forget: key => { durable.drop(key); store.drop(key); },
    all: prefix => {
      const found = [];
      try { for (let i = 0; i < localStorage.length; i++) { const k = localStorage.key(i); if (k.startsWith(prefix)) { const value = store.get(k); if (value) found.push([k.slice(prefix.length), value]); } } } catch { /* storage forbidden */ }
      return found.sort((a, b) => a[1].n - b[1].n);
    },
  };

  // Whoever signs in first after people began to sign in goes on with what was left before: nobody else could.
  function adopt() {
    if (!person) return;
    store.set(NAMES + person, document.body.dataset.personName);
    [[ALL_DRAFTS, DRAFT], [ALL_COMMANDS, COMMAND]].forEach(([all, own]) => store.all(all).filter(([key]) => !key.includes('|')).forEach(([key, entry]) => {
      if (store.keep(own + key, entry)) store.forget(all + key);
    }));
  }

  // What localStorage lost when the browser was killed: every entry numbered higher than the last number it knows of. Nothing else in the copy is newer than what stands there.
  async function restore() {
    const last = store.get(NUMBER) ?? 0;
    const lost = [];
    for (const [key, entry] of await durable.all()) {
      const here = store.get(key);
      if (entry.n > last && !(here?.n > last)) lost.push([key, entry]);
      else if (!here) durable.drop(key);
    }
    if (!lost.length) return;
    lost.forEach(([key, entry]) => store.set(key, entry));
    number = Math.max(number, ...lost.map(([, entry]) => entry.n));
    store.set(NUMBER, number);
    if (key) await key.then(unseal).catch(() => { /* they stay sealed until there is a key */ });
    changed();
    handOver();
  }

  // Entries of others that wait on this tablet until they are back: how many of whom.
  function ofOthers() {
    const counts = new Map();
    [...store.all(ALL_DRAFTS).filter(([, e]) => e.base !== null), ...store.all(ALL_SEALED), ...store.all(ALL_COMMANDS)].forEach(([key]) => {
      const who = key.split('|')[0];
      if (who !== person && key.includes('|')) counts.set(who, (counts.get(who) ?? 0) + 1);
    });
    return [...counts].map(([who, count]) => ({ name: store.get(NAMES + who) ?? 'somebody', count }));
  }

  function nextNumber() {
    number = Math.max(number, store.get(NUMBER) ?? 0) + 1;
    store.set(NUMBER, number);
    return number;
  }

  // crypto.randomUUID exists only on https and loopback; getRandomValues everywhere.
  function newId() {
    const b = crypto.getRandomValues(new Uint8Array(16));
    b[6] = (b[6] & 15) | 64; b[8] = (b[8] & 63) | 128;
    const h = [...b].map(x => x.toString(16).padStart(2, '0')).join('');
    return `${h.slice(0, 8)}-${h.slice(8, 12)}-${h.slice(12, 16)}-${h.slice(16, 20)}-${h.slice(20)}`;
  }

  // ---- drafts --------------------------------------------------------------------------------------------------
  const field = target => target?.closest?.('[data-draft]');
  const isSet = el => el.tagName === 'FIELDSET';
  const isPrivate = el => el.hasAttribute('data-private');
  const textOf = el => isSet(el) ? [...el.querySelectorAll('input:checked')].map(i => i.value).filter(v => v !== '').join(', ') : el.value;
  const entryOf = el => isPrivate(el) ? privateDrafts.get(el.dataset.draft) : store.get(DRAFT + el.dataset.draft);

  function write(el) {
    if (!person) return;
    const before = entryOf(el);
    // An emptied text that is no field of the database says nothing.
    if (el.dataset.saved === undefined && textOf(el) === '') { forget(el.dataset.draft); return; }
    const entry = { v: textOf(el), n: nextNumber(), t: Date.now(), id: newId(), base: before ? before.base : el.dataset.saved ?? null };
    if (el.hasAttribute('data-auto')) entry.auto = true;
    put(el, entry);
    changed();
  }

  // When the browser's storage is full or forbidden the entry still lives in memory for a replay after a lost connection.
  function put(el, entry) {
    if (isPrivate(el)) { privateDrafts.set(el.dataset.draft, entry); seal(el.dataset.draft, entry); }
    else if (!store.keep(DRAFT + el.dataset.draft, entry)) privateDrafts.set(el.dataset.draft, entry);
  }

  // ---- personal entries, sealed --------------------------------------------------------------------------------
  const base64 = bytes => btoa(String.fromCharCode(...new Uint8Array(bytes))), bytesOf = text => Uint8Array.from(atob(text), c => c.charCodeAt(0));
  const key = person && crypto.subtle && fetch('/tablet-key', { cache: 'no-store' })
    .then(answer => { if (!answer.ok) throw new Error('no key'); return answer.text(); })
    .then(text => crypto.subtle.importKey('raw', bytesOf(text), 'AES-GCM', false, ['encrypt', 'decrypt']));
  key && key.then(unseal).catch(() => { /* personal entries then live as long as this page */ });

  async function seal(draft, entry) {
    try {
      const iv = crypto.getRandomValues(new Uint8Array(12));
      const text = new TextEncoder().encode(JSON.stringify(entry));
      const data = await crypto.subtle.encrypt({ name: 'AES-GCM', iv, additionalData: new TextEncoder().encode(draft) }, await key, text);
      // More may have been typed, or the server may have it, by now.
      if (privateDrafts.get(draft) === entry) store.keep(SEALED + draft, { iv: base64(iv), data: base64(data), n: entry.n });
    } catch { /* as above */ }
  }

  // What an earlier page left behind. What cannot be opened was sealed with a key that is gone.
  async function unseal() {
    for (const [draft, sealed] of store.all(SEALED)) {
      try {
        const text = await crypto.subtle.decrypt({ name: 'AES-GCM', iv: bytesOf(sealed.iv), additionalData: new TextEncoder().encode(draft) }, await key, bytesOf(sealed.data));
        if (!privateDrafts.has(draft)) privateDrafts.set(draft, JSON.parse(new TextDecoder().decode(text)));
      } catch { store.forget(SEALED + draft); }
    }
    if (privateDrafts.size) { changed(); handOver(); }
  }

  addEventListener('storage', e => { if (e.key?.startsWith(SEALED) && e.newValue === null) privateDrafts.delete(e.key.slice(SEALED.length)); });

  function forget(key) {
    privateDrafts.delete(key);
    store.forget(DRAFT + key);
    store.forget(SEALED + key);
    changed();
  }

  // The server has dealt with everything up to data-ack: the entry goes, or, when more was typed meanwhile, builds on what is saved now.
  function settle(el) {
    const entry = entryOf(el), ack = Number(el.dataset.ack || 0);
    if (!entry || !ack) return;
    if (ack >= entry.n) { savedAt = new Date(); forget(el.dataset.draft); }
    else if (el.dataset.saved !== undefined && entry.base !== el.dataset.saved) { entry.base = el.dataset.saved; put(el, entry); }
  }

  function replay(el) {
    const entry = entryOf(el);
    if (!entry) return;
    if (entry.v === el.dataset.saved) { forget(el.dataset.draft); return; }
    replaying = true;
    try { show(el, entry.v); } finally { replaying = false; }
  }

  function show(el, text) {
    if (!isSet(el)) { el.value = text; el.dispatchEvent(new Event('input', { bubbles: true })); return; }
    const wanted = new Set(text.split(/,\s*/));
    const inputs = [...el.querySelectorAll('input')];
    inputs.forEach(i => { i.checked = wanted.has(i.value); });
    (inputs.find(i => i.checked) ?? inputs[0])?.dispatchEvent(new Event('input', { bubbles: true }));
  }

  // What the custom event carries to .NET.
  function eventArgs(e) {
    const el = field(e.target);
    const entry = el && entryOf(el);
    return { value: el ? textOf(el) : e.target.value ?? '', base: entry?.base ?? null, sequence: entry?.n ?? 0, id: entry?.id ?? newId(), replayed: replaying };
  }

  addEventListener('input', e => { const el = field(e.target); if (el && !replaying) write(el); }, true);

  new MutationObserver(changes => {
    for (const c of changes) {
      if (c.type === 'childList') c.addedNodes.forEach(n => { if (n.nodeType === 1) { if (n.matches('[data-draft]')) replay(n); n.querySelectorAll('[data-draft]').forEach(replay); } });
      else if (c.attributeName === 'data-draft') replay(c.target);
      else settle(c.target);
    }
  }).observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ['data-ack', 'data-draft'] });

  // ---- commands ------------------------------------------------------------------------------------------------
  function command(kind, id, payload) { store.keep(COMMAND + id, { kind, payload, n: nextNumber(), t: Date.now() }); changed(); }
  function done(id) { store.forget(COMMAND + id); savedAt = new Date(); changed(); }
  function refused(id, message) { const c = store.get(COMMAND + id); if (c) { c.refused = message; store.keep(COMMAND + id, c); changed(); } }
  function discard(id) { store.forget(COMMAND + id); changed(); }
  const commands = () => store.all(COMMAND).map(([id, c]) => ({ id, kind: c.kind, payload: c.payload, refused: c.refused ?? null }));

  // A clock that was set back since must not make an entry look as if it were yet to be typed.
  const apart = t => Math.abs(Date.now() - t);

  // Entries of fields that are on no page now (typed, connection lost, tablet reloaded elsewhere). A younger entry may belong
  // to another tab that is still typing.
  const strays = () => [...store.all(DRAFT), ...privateDrafts]
    .filter(([key, e]) => e.auto && apart(e.t) > OWN_TAB_MS && !document.querySelector(`[data-draft="${CSS.escape(key)}"]`))
    .map(([key, e]) => ({ key, value: e.v, base: e.base, id: e.id, sequence: e.n }));

  // The drafts whose key begins so, wherever their fields are: a page shows what was begun and not entered.
  const drafts = prefix => store.all(DRAFT + prefix).filter(([, e]) => e.v !== '').map(([key]) => prefix + key);

  // ---- life ----------------------------------------------------------------------------------------------------
  // In pieces: a message that is too long would end the circuit, and the next one would send it again.
  async function handOver() {
    document.querySelectorAll('[data-draft]').forEach(replay);
    try {
      for (const piece of pieces(commands())) await server?.invokeMethodAsync('Replay', piece, []);
      for (const piece of pieces(strays())) await server?.invokeMethodAsync('Replay', [], piece);
    } catch { /* the next connection tries again */ }
  }

  function pieces(entries) {
    const all = [];
    let room = 0;
    for (const entry of entries) {
      const size = 3 * JSON.stringify(entry).length; // Letters take three bytes at most.
      if (size > MESSAGE) continue; // No page of ours wrote it.
      if (size > room) { all.push([]); room = MESSAGE; }
      all.at(-1).push(entry);
      room -= size;
    }
    return all;
  }

  function changed() { listeners.forEach(l => l()); }

  // What is not yet with the server: fields and commands, the age of the oldest in milliseconds, and texts begun that nobody has entered yet.
  function pending() {
    const drafts = [...privateDrafts.values(), ...store.all(DRAFT).map(p => p[1])];
    const open = [...drafts.filter(e => e.base !== null), ...store.all(COMMAND).map(p => p[1]), ...others.flatMap(times => times().map(t => ({ t })))];
    return { count: open.length, begun: drafts.length - drafts.filter(e => e.base !== null).length, age: open.length ? Math.max(...open.map(e => apart(e.t))) : 0, savedAt, others: ofOthers() };
  }

  addEventListener('storage', changed);
  adopt();
  restore();
  // What was too young when the page began, or typed by a page that has gone since, is nobody else's by now.
  setInterval(() => { if (server && strays().length) handOver(); }, OWN_TAB_MS);
  return {
    attach: ref => { server = ref; handOver(); }, detach: () => { server = null; },
    onchange: l => listeners.push(l),
    // What another script keeps until the server has it (photos.js): a function that answers when each was taken; and that one of them has arrived.
    alsoPending: times => others.push(times), savedNow: () => { savedAt = new Date(); changed(); },
    connectionBack: () => { handOver(); }, pending, person, drafts, eventArgs, newId, forget, command, done, refused, discard,
  };
})();
