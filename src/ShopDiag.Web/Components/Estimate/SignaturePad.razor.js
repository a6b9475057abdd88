// A field to sign in: strokes as points from 0 to 1 of the field, x and y by turns.
let field = null, strokes = [], current = null;
let listeners = new AbortController();

const DECIMALS = 1e4, MOST = 19000;
const size = () => strokes.reduce((n, s) => n + s.length / 2, 0);

function point(event) {
  const box = field.getBoundingClientRect();
  const part = (v, from, length) => Math.round(Math.min(1, Math.max(0, (v - from) / length)) * DECIMALS) / DECIMALS;
  return [part(event.clientX, box.left, box.width), part(event.clientY, box.top, box.height)];
}

function draw() {
  const pen = field.getContext('2d');
  pen.clearRect(0, 0, field.width, field.height);
  pen.lineWidth = 4; pen.lineCap = pen.lineJoin = 'round';
  pen.strokeStyle = getComputedStyle(field).color;
  for (const s of strokes) {
    pen.beginPath();
    for (let i = 0; i < s.length; i += 2) pen[i ? 'lineTo' : 'moveTo'](s[i] * field.width, s[i + 1] * field.height);
    if (s.length === 2) pen.lineTo(s[0] * field.width + 1, s[1] * field.height);
    pen.stroke();
  }
}

export function start() {
  field = document.querySelector('[data-sign]');
  if (!field) return;
  strokes = []; current = null;
  listeners.abort(); listeners = new AbortController();
  const on = (type, act) => field.addEventListener(type, act, { signal: listeners.signal });
  on('pointerdown', e => {
    if (size() > MOST) return;
    field.setPointerCapture(e.pointerId);
    current = [...point(e)];
    strokes.push(current);
    draw();
    e.preventDefault();
  });
  on('pointermove', e => {
    if (!current || size() > MOST) return;
    for (const p of e.getCoalescedEvents?.().length ? e.getCoalescedEvents() : [e]) current.push(...point(p));
    draw();
  });
  for (const end of ['pointerup', 'pointercancel']) on(end, () => { current = null; });
}

export function clear() { strokes = []; current = null; if (field) draw(); }
export const read = () => strokes;
export function dispose() { listeners.abort(); field = null; }
