// What the waveform page does in the browser: a file chosen or dropped and sent by HTTP with its progress, and a stretch of the trace drawn with a finger.
const LEAST_STRETCH = .02, REPORT_MS = 250;
const listeners = new AbortController(), on = { signal: listeners.signal };
let server = null, file = null, from = null;

export function watch(component) {
  server = component;
  document.addEventListener('change', e => { if (e.target.id === 'wf-file') take(e.target.files?.[0]); }, on);
  const zone = e => e.target.closest?.('[data-wf-drop]');
  document.addEventListener('dragover', e => { if (zone(e)) e.preventDefault(); }, on);
  document.addEventListener('drop', e => { if (zone(e)) { e.preventDefault(); take(e.dataTransfer?.files?.[0]); } }, on);
  document.addEventListener('pointerdown', begin, on);
  document.addEventListener('pointermove', draw, on);
  document.addEventListener('pointerup', end, on);
  document.addEventListener('pointercancel', clear, on);
}

// ---- the file --------------------------------------------------------------------------------------------------------
function take(chosen) {
  if (!chosen) return;
  file = chosen;
  tell('Chosen', chosen.name, chosen.size);
}

// XMLHttpRequest, because fetch does not say how much is sent.
export function send(address) {
  if (!file) return 'Choose a file first.';
  return new Promise(done => {
    const request = new XMLHttpRequest();
    let told = 0;
    request.upload.onprogress = e => {
      if (!e.lengthComputable || performance.now() - told < REPORT_MS) return;
      told = performance.now();
      tell('Sent', e.loaded / e.total);
    };
    request.onload = () => done(request.status < 300 ? '' : request.status === 413 ? 'The file is too large: 400 MB are taken at most.' : typeof request.response === 'string' && request.response.length < 300 ? request.response.replace(/^"|"$/g, '') : `The program answered ${request.status}.`);
    request.onerror = () => done('The file could not be sent: no connection, or the file has changed since it was chosen.');
    request.open('PUT', address);
    request.setRequestHeader('Content-Type', 'application/octet-stream');
    request.send(file);
  });
}

// ---- a stretch of the trace ------------------------------------------------------------------------------------------
const share = e => { const box = from.trace.getBoundingClientRect(); return Math.min(1, Math.max(0, (e.clientX - box.left) / box.width)); };

function begin(e) {
  const trace = e.target.closest?.('[data-wf-trace]');
  if (!trace || !e.isPrimary || e.button > 0) return;
  from = { trace, at: 0 };
  from.at = share(e);
}

function draw(e) {
  if (!from || !e.isPrimary) return;
  const mark = from.trace.querySelector('[data-wf-stretch]'), to = share(e);
  if (!mark) return;
  mark.style.left = `${Math.min(from.at, to) * 100}%`;
  mark.style.width = `${Math.abs(to - from.at) * 100}%`;
}

function end(e) {
  if (!from || !e.isPrimary) return;
  const [a, b] = [from.at, share(e)];
  clear();
  if (Math.abs(b - a) >= LEAST_STRETCH) tell('Stretch', Math.min(a, b), Math.max(a, b));
}

// The finger scrolls the page instead.
function clear() {
  const mark = from?.trace.querySelector('[data-wf-stretch]');
  if (mark) mark.style.width = '0';
  from = null;
}

function tell(what, ...values) { server?.invokeMethodAsync(what, ...values).catch(() => { /* the page has gone or the connection has */ }); }

export function dispose() { listeners.abort(); server = null; file = null; }
