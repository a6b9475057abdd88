// What the balance run does in the browser: the microphone, cues for ear and hand, the countdown (which must go on when the connection does not), recordings sent.
const RATE = 16000, MOST_BLOCKS = 8, MOST_WAITING = 300, RETRY_MS = 500, LONGEST_S = 900, STRAIGHT_BYTES = 30e6;
// Above what the engine is listened to in (4 kHz): the tablet must not hear its own tones. tests/ShopDiag.Signals.Tests holds this.
const TONE_HZ = 6000;

// ---- microphone ------------------------------------------------------------------------------------------------------
let capture = null, stream = null, server = null, queue = [], next = 0, flushing = false, lock = null;

// 'ok', 'insecure' (plain http from another computer) or 'none' (a browser without any).
export function microphone() {
  if (navigator.mediaDevices?.getUserMedia && window.AudioWorkletNode) return 'ok';
  return isSecureContext ? 'none' : 'insecure';
}

// Asks for the microphone. { rate, processed: [...] } or { problem, detail }.
export async function open() {
  const state = microphone();
  if (state !== 'ok') return { problem: state };
  await close();
  try {
    stream = await navigator.mediaDevices.getUserMedia({ audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 } });
  } catch (e) {
    const problem = { NotAllowedError: 'refused', SecurityError: 'refused', NotFoundError: 'missing', OverconstrainedError: 'missing', NotReadableError: 'busy' }[e.name] ?? 'failed';
    return { problem, detail: e.message };
  }
  try {
    const source = await connect();
    const block = new AudioWorkletNode(capture, 'sound-block', { numberOfInputs: 1, numberOfOutputs: 1, outputChannelCount: [1] });
    block.port.onmessage = e => heard(e.data);
    source.connect(block).connect(capture.destination); // It gives out silence; unconnected it would not run.
  } catch (e) {
    await close();
    return { problem: 'failed', detail: e.message };
  }
  const track = stream.getAudioTracks()[0], settings = track.getSettings();
  track.addEventListener('ended', () => tell('MicrophoneEnded'));
  return { rate: capture.sampleRate, processed: ['echoCancellation', 'noiseSuppression', 'autoGainControl'].filter(s => settings[s] === true) };
}

// 16 kHz is what is needed; a browser that cannot resample a microphone gives its own rate.
async function connect() {
  try {
    capture = new AudioContext({ sampleRate: RATE });
    await capture.audioWorklet.addModule('/js/sound-block.js');
    await capture.resume();
    return capture.createMediaStreamSource(stream);
  } catch (e) {
    if (e.name !== 'NotSupportedError') throw e;
    await capture.close();
    capture = new AudioContext();
    await capture.audioWorklet.addModule('/js/sound-block.js');
    await capture.resume();
    return capture.createMediaStreamSource(stream);
  }
}

// From now on blocks go to the page's component; the first sample has the number 0.
export async function send(component) {
  [server, queue, next] = [component, [], 0];
  try { lock = await navigator.wakeLock?.request('screen'); } catch { /* the tablet may darken then */ }
}

function heard(buffer) {
  if (!server) return;
  queue.push({ first: next, bytes: new Uint8Array(buffer) });
  next += buffer.byteLength / 2;
  // The oldest go first; the server sees the gap by the numbers.
  if (queue.length > MOST_WAITING) queue.shift();
  flush();
}

async function flush() {
  if (flushing) return;
  flushing = true;
  try {
    while (queue.length && server) {
      const blocks = queue.slice(0, MOST_BLOCKS), bytes = new Uint8Array(blocks.reduce((n, b) => n + b.bytes.length, 0));
      const whole = blocks.every((b, i) => i === 0 || b.first === blocks[i - 1].first + blocks[i - 1].bytes.length / 2) && bytes.length < 28000;
      const part = whole ? blocks : blocks.slice(0, 1);
      let at = 0;
      for (const b of part) { bytes.set(b.bytes, at); at += b.bytes.length; }
      await server.invokeMethodAsync('Sound', part[0].first, bytes.subarray(0, at));
      const sent = part.at(-1).first;
      queue = queue.filter(b => b.first > sent); // Some of them may have been dropped meanwhile.
    }
  } catch {
    // No connection: the blocks wait.
    setTimeout(flush, RETRY_MS);
  } finally {
    flushing = false;
  }
}

function tell(what) { server?.invokeMethodAsync(what).catch(() => { /* the page has gone or the connection has */ }); }

export async function close() {
  server = null; queue = [];
  stream?.getTracks().forEach(t => t.stop());
  stream = null;
  try { await capture?.close(); } catch { /* closed already */ }
  capture = null;
  try { await lock?.release(); } catch { /* released already */ }
  lock = null;
}

// ---- cues ------------------------------------------------------------------------------------------------------------
const listeners = new AbortController();
let tones = null, timer = 0, ends = 0;

// A browser lets sound out only after a touch.
addEventListener('pointerdown', () => { try { tones ??= new AudioContext(); tones.resume(); } catch { /* silent then */ } }, { signal: listeners.signal, capture: true });

const CUES = {
  ready: { beeps: [[0, .05]], shake: [60] },
  cancel: { beeps: [[0, .09], [.16, .09]], shake: [200, 80, 200] },
  restore: { beeps: [[0, .35]], shake: [600] },
  back: { beeps: [[0, .05]], shake: [60] },
  late: { beeps: [[0, .2], [.3, .2], [.6, .2]], shake: [300, 100, 300, 100, 300] },
};

// Gives a cue and counts down the seconds, here on the tablet: a lost connection must not leave a cylinder off.
export function cue(kind, seconds, loud) {
  const { beeps, shake } = CUES[kind] ?? {};
  if (shake) navigator.vibrate?.(shake);
  if (loud && beeps) beeps.forEach(([at, long]) => beep(at, long));
  clearInterval(timer);
  const element = document.querySelector('[data-br-count]');
  if (element) element.textContent = '';
  if (seconds === null) return;
  ends = performance.now() + seconds * 1000;
  const holds = kind === 'cancel' || kind === 'off';
  const show = () => {
    const left = (ends - performance.now()) / 1000, shown = document.querySelector('[data-br-count]');
    if (shown) shown.textContent = left > 0 ? Math.ceil(left) : holds ? 'Restore now' : '';
    // The server says it itself a moment later; when it does not, this was the word.
    if (left < -.7) { clearInterval(timer); if (holds) cue('restore', null, loud), shown && (shown.textContent = 'Restore now'); }
  };
  show();
  timer = setInterval(show, 100);
}

function beep(at, long) {
  if (!tones || tones.state !== 'running') return;
  const start = tones.currentTime + at, sound = tones.createOscillator(), level = tones.createGain();
  sound.frequency.value = TONE_HZ;
  level.gain.setValueAtTime(0, start);
  level.gain.linearRampToValueAtTime(.5, start + .01); // A hard edge would click in the band of the engine.
  level.gain.setValueAtTime(.5, start + long - .01);
  level.gain.linearRampToValueAtTime(0, start + long);
  sound.connect(level).connect(tones.destination);
  sound.start(start);
  sound.stop(start + long);
}

// ---- recordings made elsewhere -----------------------------------------------------------------------------------------
// Sends the chosen file to an address (PUT). WAV and logs go as they are; anything else that the browser can play is decoded here. Empty when kept, otherwise what is wrong.
export async function keep(inputId, address) {
  const file = document.getElementById(inputId)?.files?.[0];
  if (!file) return 'Choose a file first.';
  const head = new Uint8Array(await file.slice(0, 12).arrayBuffer());
  const is = text => [...text].every((c, i) => head[i] === c.charCodeAt(0));
  if (/\.(csv|txt|tsv|log)$/i.test(file.name) || file.type.startsWith('text/')) return put(address + '&kind=csv', file);
  if (is('RIFF') && file.size <= STRAIGHT_BYTES) {
    const refused = await put(address + '&kind=wav', file);
    if (!refused) return '';
  }
  let sound;
  try {
    sound = await new OfflineAudioContext(1, 1, RATE).decodeAudioData(await file.arrayBuffer());
  } catch {
    return 'This browser cannot decode the file. Save it as WAV, MP3, M4A, Ogg or FLAC; a speed log as CSV.';
  }
  if (sound.duration > LONGEST_S) return `The recording is ${Math.round(sound.duration / 60)} minutes long; ${LONGEST_S / 60} are taken at most. Cut out the balance run.`;
  return put(address + '&kind=wav', wav(sound));
}

async function put(address, body) {
  try {
    const answer = await fetch(address, { method: 'PUT', body, headers: { 'Content-Type': 'application/octet-stream' } });
    if (answer.ok) return '';
    if (answer.status === 413) return 'The file is too large: 90 MB are taken at most.';
    const text = await answer.text();
    try { return JSON.parse(text); } catch { return text || `The server answered ${answer.status}.`; }
  } catch {
    return 'The connection was lost while it was sent. Send it again.';
  }
}

function wav(sound) {
  const count = sound.length, bytes = new DataView(new ArrayBuffer(44 + 2 * count));
  const text = (at, s) => [...s].forEach((c, i) => bytes.setUint8(at + i, c.charCodeAt(0)));
  text(0, 'RIFF'); bytes.setUint32(4, 36 + 2 * count, true); text(8, 'WAVEfmt '); bytes.setUint32(16, 16, true);
  bytes.setUint16(20, 1, true); bytes.setUint16(22, 1, true); bytes.setUint32(24, sound.sampleRate, true); bytes.setUint32(28, 2 * sound.sampleRate, true);
  bytes.setUint16(32, 2, true); bytes.setUint16(34, 16, true); text(36, 'data'); bytes.setUint32(40, 2 * count, true);
  const channels = Array.from({ length: sound.numberOfChannels }, (_, c) => sound.getChannelData(c));
  for (let i = 0; i < count; i++) {
    let sum = 0;
    for (const channel of channels) sum += channel[i];
    bytes.setInt16(44 + 2 * i, Math.max(-32768, Math.min(32767, Math.round(sum / channels.length * 32767))), true);
  }
  return new Blob([bytes.buffer], { type: 'audio/wav' });
}

// ---- the page --------------------------------------------------------------------------------------------------------
export function focus(id) { const el = document.getElementById(id); if (el) { el.focus(); el.select?.(); } }

export function top() { scrollTo(0, 0); }

export function forget(keys) { keys.forEach(window.journal.forget); }

export async function dispose() { listeners.abort(); clearInterval(timer); await close(); try { await tones?.close(); } catch { /* closed already */ } tones = null; }
