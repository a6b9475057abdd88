// Photos on their way from this tablet to the server.
//
// An <input type="file" data-photo-input data-to="/orders/1014/photos" data-about="test=...&at=..."> hands its files over. Each gets a key, is made smaller where the browser can read it, is written
// into the browser's own database, and is sent (PUT, Photos/PhotoEndpoints.cs) until the server has answered: after a lost connection, a reload or a closed tab it is sent again under the same
// key, which makes it harmless. What the server refuses is said and not sent again.
// <ul data-photo-queue="/orders/1014/photos?test=...&at=..."> shows what is on its way there: who renders it leaves it empty.
window.photos = (() => {
  const LONGEST = 1600, LARGEST = 15e6, SMALL_ENOUGH = 1e6, AT_ONCE = 2, RETRY_MS = 4000;
  const waiting = new Map(); // By key: { id, to, about, person, name, t, blob }, and how it stands: { state, part, refused }.
  let sending = 0, timer = 0;

  // ---- the browser's database -------------------------------------------------------------------------------------
  // Forbidden or full: the photos then live as long as the page, which still survives a lost connection.
  let database = null;
  function open() {
    database ??= new Promise((done, failed) => {
      const request = indexedDB.open('shop-photos', 1);
      request.onupgradeneeded = () => request.result.createObjectStore('waiting', { keyPath: 'id' });
      request.onsuccess = () => done(request.result);
      request.onerror = () => failed(request.error);
    });
    return database;
  }

  async function inStore(mode, act) {
    try {
      const store = (await open()).transaction('waiting', mode).objectStore('waiting');
      return await new Promise((done, failed) => {
        const request = act(store);
        store.transaction.oncomplete = () => done(request.result);
        store.transaction.onerror = store.transaction.onabort = () => failed(store.transaction.error);
      });
    } catch {
      return null;
    }
  }

  const keep = ({ id, to, about, person, name, t, blob }) => inStore('readwrite', s => s.put({ id, to, about, person, name, t, blob }));
  const drop = id => inStore('readwrite', s => s.delete(id));

  // ---- taking -----------------------------------------------------------------------------------------------------
  async function take(input) {
    const { to, about } = input.dataset, files = [...input.files];
    input.value = ''; // The same file can be chosen again.
    // A millisecond apart: several chosen together stay in their order.
    const taken = files.map((file, i) => ({ file, photo: { id: journal.newId(), to, about, person: journal.person, name: file.name, t: Date.now() + i, state: 'preparing', part: 0 } }));
    taken.forEach(({ photo }) => waiting.set(photo.id, photo));
    show();
    // One after the other: each takes some 50 MB while it is made smaller.
    for (const { file, photo } of taken) {
      photo.blob = await smaller(file);
      if (photo.blob.size > LARGEST) refuse(photo, 'It is larger than 15 MB. Choose a smaller size on the camera.');
      else { await keep(photo); photo.state = 'waiting'; send(); }
    }
  }

  // As large as the server keeps it, upright. What this browser cannot read goes as it is: the server reads it or says why not.
  async function smaller(file) {
    try {
      const picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
      const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
      if (scale === 1 && file.size < SMALL_ENOUGH) { picture.close(); return file; }
      const canvas = document.createElement('canvas');
      [canvas.width, canvas.height] = [Math.max(1, Math.round(picture.width * scale)), Math.max(1, Math.round(picture.height * scale))];
      const ink = canvas.getContext('2d');
      ink.imageSmoothingQuality = 'high';
      ink.fillStyle = '#fff'; // What is transparent is paper.
      ink.fillRect(0, 0, canvas.width, canvas.height);
      ink.drawImage(picture, 0, 0, canvas.width, canvas.height);
      picture.close();
      const jpeg = await new Promise(done => canvas.toBlob(done, 'image/jpeg', .9));
      return jpeg && jpeg.size < file.size ? jpeg : file;
    } catch {
      return file;
    }
  }

  // ---- sending ----------------------------------------------------------------------------------------------------
  function send() {
    for (const photo of waiting.values()) {
      if (sending >= AT_ONCE) break;
      if (photo.state === 'waiting') put(photo);
    }
    show();
  }

  function put(photo) {
    const about = new URLSearchParams(photo.about);
    about.set('name', photo.name); about.set('taken', photo.t);
    const request = new XMLHttpRequest(); // fetch does not tell how far it has come.
    [photo.state, photo.part] = ['sending', 0];
    sending++;
    request.open('PUT', `${photo.to}/${photo.id}?${about}`);
    request.setRequestHeader('Content-Type', 'application/octet-stream');
    request.upload.onprogress = e => { if (e.lengthComputable) { photo.part = e.loaded / e.total; show(); } };
    request.onload = () => { sending--; answered(photo, request); };
    request.onerror = request.onabort = request.ontimeout = () => { sending--; later(photo); };
    request.timeout = 120000;
    request.send(photo.blob);
  }

  // Only an answer in our own form is one: a page for signing in, or of a network that wants a click first, is none.
  function answered(photo, request) {
    let words = null;
    try { words = JSON.parse(request.responseText); } catch { /* not ours */ }
    if (typeof words !== 'string') later(photo);
    else if (request.status === 200) done(photo);
    else if ([400, 404, 409, 413].includes(request.status)) refuse(photo, words.startsWith(`${photo.name}: `) ? words.slice(photo.name.length + 2) : words);
    else later(photo);
    send();
  }

  function later(photo) {
    photo.state = 'away';
    clearTimeout(timer);
    timer = setTimeout(again, RETRY_MS);
    show();
  }

  function again() {
    waiting.forEach(photo => { if (photo.state === 'away') photo.state = 'waiting'; });
    send();
  }

  function done(photo) {
    waiting.delete(photo.id);
    drop(photo.id);
    journal.savedNow();
  }

  function refuse(photo, why) {
    [photo.state, photo.refused, photo.blob] = ['refused', why, null];
    drop(photo.id);
    show();
  }

  // ---- showing ----------------------------------------------------------------------------------------------------
  const WORDS = { preparing: 'being made smaller', waiting: 'waiting', sending: 'being sent', away: 'kept on this tablet, sent when there is a connection' };

  function show() {
    document.querySelectorAll('[data-photo-queue]').forEach(list => {
      const here = [...waiting.values()].filter(p => `${p.to}?${p.about}` === list.dataset.photoQueue);
      const known = new Map([...list.children].map(li => [li.dataset.photo, li]));
      known.forEach((li, id) => { if (!here.some(p => p.id === id)) li.remove(); });
      here.forEach(photo => line(photo, known.get(photo.id) ?? list.appendChild(newLine(photo))));
    });
  }

  function newLine(photo) {
    const li = document.createElement('li');
    li.dataset.photo = photo.id;
    const words = li.appendChild(document.createElement('span'));
    words.className = 'ph-words';
    const bar = li.appendChild(document.createElement('progress'));
    bar.setAttribute('aria-label', `How much of ${photo.name} is sent`);
    return li;
  }

  function line(photo, li) {
    const words = li.querySelector('.ph-words'), bar = li.querySelector('progress');
    const text = photo.refused ? `Not taken: ${photo.name}. ${photo.refused}` : `${photo.name}: ${WORDS[photo.state]}`;
    if (words.textContent !== text) words.textContent = text;
    if (!photo.refused) { bar.value = photo.part; return; }
    bar?.remove();
    li.className = 'ph-refused';
    if (!li.querySelector('button')) {
      const button = li.appendChild(document.createElement('button'));
      [button.type, button.className, button.textContent] = ['button', 'button', 'OK'];
      button.dataset.offline = '';
      button.addEventListener('click', () => { waiting.delete(photo.id); show(); });
    }
  }

  // ---- life -------------------------------------------------------------------------------------------------------
  document.addEventListener('change', e => { if (e.target.matches?.('input[data-photo-input]')) take(e.target); });
  addEventListener('online', again);
  document.getElementById('components-reconnect-modal').addEventListener('components-reconnect-state-changed', e => { if (e.detail.state === 'hide') again(); });
  new MutationObserver(changes => {
    if (changes.some(c => c.type === 'attributes' || [...c.addedNodes].some(n => n.nodeType === 1 && (n.matches('[data-photo-queue]') || n.querySelector('[data-photo-queue]'))))) show();
  }).observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ['data-photo-queue'] });
  journal.alsoPending(() => [...waiting.values()].filter(p => !p.refused).map(p => p.t));
  inStore('readonly', s => s.getAll()).then(left => {
    // A photo waits for whoever took it: sent now it would stand under another name.
    (left ?? []).filter(photo => (photo.person ?? journal.person) === journal.person).forEach(photo => { if (!waiting.has(photo.id)) waiting.set(photo.id, { ...photo, state: 'waiting', part: 0 }); });
    send();
  });

  return { again };
})();
