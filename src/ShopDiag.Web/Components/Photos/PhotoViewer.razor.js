// Drawing on a photo. Strokes lie on a canvas over the picture and are kept as text in a hidden input, a list of strokes, each a flat list of x and y from 0 to 1 (Storage/Photos/PhotoMarks.cs);
// whatever changes goes through an input event, so that the journal has it before the server hears of it.
// Everything listens on the viewer's own elements and goes with them: the next viewer may begin before this one is told to end.
const STEP = .02, LONG_STEP = .1, RING = .06, RING_POINTS = 24, TAP = .012, NEAR = .003, STRAIGHT = .0025, SAY_MS = 500;

export function start() {
  const view = document.querySelector('[data-photo-viewer]'), canvas = view?.querySelector('[data-photo-canvas]');
  if (!canvas) return;
  const { colour, line, edge, longest } = canvas.dataset;
  const input = document.getElementById(canvas.dataset.marks), said = view.querySelector('[data-photo-say]');
  const undoKey = view.querySelector('[data-photo-undo]'), clearKey = view.querySelector('[data-photo-clear]');
  const ink = canvas.getContext('2d'), ratio = () => canvas.height / canvas.width;
  let strokes = [], past = [], live = null, ring = null, timer = 0;

  // ---- the marks --------------------------------------------------------------------------------------------------
  const flat = stroke => stroke.flatMap(([x, y]) => [round(x), round(y)]);
  const text = all => JSON.stringify(all.map(flat));

  function read() {
    if (live || text(strokes) === input.value) return;
    try {
      strokes = JSON.parse(input.value || '[]').map(numbers => numbers.reduce((points, n, i) => (i % 2 ? points.at(-1).push(n) : points.push([n]), points), []));
      past = [];
    } catch { /* Nothing that can be drawn: the server refuses it and says so. */ }
    draw();
  }

  function change(next, words) {
    const written = text(next);
    if (written.length >= longest) { say('This photo holds no more marks. Undo one first.'); return; }
    past.push(strokes);
    put(next, written, words);
  }

  function put(next, written, words) {
    strokes = next;
    input.value = written;
    input.dispatchEvent(new Event('input', { bubbles: true }));
    draw();
    say(words);
  }

  // Without a past (after a reload) the last stroke goes.
  function undo() {
    if (!strokes.length && !past.length) return;
    const next = past.length ? past.pop() : strokes.slice(0, -1);
    put(next, text(next), `Undone. ${count(next)}`);
  }

  const clear = () => { if (strokes.length) change([], 'All marks are cleared. Undo brings them back.'); };
  const count = all => all.length === 1 ? '1 mark.' : `${all.length} marks.`;
  const add = (stroke, what) => change([...strokes, stroke], `${what} ${count([...strokes, stroke])}`);

  // ---- drawing ----------------------------------------------------------------------------------------------------
  function draw() {
    const box = canvas.getBoundingClientRect(), scale = devicePixelRatio || 1;
    if (!box.width) return;
    const [width, height] = [Math.round(box.width * scale), Math.round(box.height * scale)];
    if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
    ink.clearRect(0, 0, width, height);
    ink.lineCap = ink.lineJoin = 'round';
    for (const stroke of live ? [...strokes, live] : strokes) trace(stroke, []);
    if (ring) trace(circle(ring), [6 * scale, 8 * scale]);
    [undoKey, clearKey].forEach((key, i) => key.setAttribute('aria-disabled', String(!strokes.length && (i === 1 || !past.length))));
  }

  // White below, colour above: the mark stands out on black soot and on a white insulator alike.
  function trace(stroke, dash) {
    const long = Math.max(canvas.width, canvas.height);
    for (const [part, style] of [[edge, '#fff'], [line, colour]]) {
      ink.beginPath();
      stroke.forEach(([x, y], i) => i ? ink.lineTo(x * canvas.width, y * canvas.height) : ink.moveTo(x * canvas.width, y * canvas.height));
      if (stroke.length === 1) ink.lineTo(stroke[0][0] * canvas.width + .01, stroke[0][1] * canvas.height);
      ink.setLineDash(style === colour ? dash : []);
      [ink.lineWidth, ink.strokeStyle] = [part * long, style];
      ink.stroke();
    }
  }

  // Round on the picture, whatever its shape.
  function circle([x, y]) {
    const long = Math.max(1, ratio()), across = RING * long, down = RING * long / ratio();
    return Array.from({ length: RING_POINTS + 1 }, (_, i) => [within(x + across * Math.cos(2 * Math.PI * i / RING_POINTS)), within(y + down * Math.sin(2 * Math.PI * i / RING_POINTS))]);
  }

  // ---- by finger --------------------------------------------------------------------------------------------------
  function point(e) {
    const box = canvas.getBoundingClientRect();
    return [within((e.clientX - box.left) / box.width), within((e.clientY - box.top) / box.height)];
  }

  canvas.addEventListener('pointerdown', e => {
    if (!e.isPrimary || e.button !== 0) return;
    canvas.setPointerCapture(e.pointerId);
    [live, ring] = [[point(e)], null];
    draw();
  });
  canvas.addEventListener('pointermove', e => {
    if (!live || !e.isPrimary) return;
    for (const step of e.getCoalescedEvents?.() ?? [e]) {
      const next = point(step);
      if (far(live.at(-1), next) > NEAR) live.push(next);
    }
    draw();
  });
  canvas.addEventListener('pointerup', e => {
    if (!live || !e.isPrimary) return;
    const stroke = live;
    live = null;
    if (stroke.every(p => far(stroke[0], p) < TAP)) add(circle(stroke[0]), 'A ring is set.'); else add(straightened(stroke), 'A line is drawn.');
    draw();
  });
  // A second finger makes the picture larger; the line that the first began was not meant.
  canvas.addEventListener('pointercancel', () => { live = null; draw(); });
  canvas.addEventListener('dragstart', e => e.preventDefault());

  const far = (a, b) => Math.hypot(b[0] - a[0], (b[1] - a[1]) * ratio()) / Math.max(1, ratio());

  // Ramer, Douglas and Peucker: points that lie on the line between others say nothing.
  function straightened(points) {
    if (points.length < 3) return points;
    const [a, b] = [points[0], points.at(-1)];
    let [most, at] = [0, 0];
    points.forEach((p, i) => { const off = beside(p, a, b); if (off > most) [most, at] = [off, i]; });
    return most <= STRAIGHT ? [a, b] : [...straightened(points.slice(0, at + 1)), ...straightened(points.slice(at)).slice(1)];
  }

  function beside(p, a, b) {
    const length = far(a, b);
    if (length === 0) return far(a, p);
    const r = ratio(), long = Math.max(1, r);
    return Math.abs((b[0] - a[0]) * (a[1] - p[1]) * r - (a[0] - p[0]) * (b[1] - a[1]) * r) / (length * long * long);
  }

  // ---- by keyboard ------------------------------------------------------------------------------------------------
  const MOVES = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  canvas.addEventListener('keydown', e => {
    const move = MOVES[e.key];
    if (move) {
      const step = e.shiftKey ? LONG_STEP : STEP;
      ring = ring ? [within(ring[0] + move[0] * step), within(ring[1] + move[1] * step)] : [.5, .5];
      draw();
      say(`Ring at ${Math.round(ring[0] * 100)} % from the left, ${Math.round(ring[1] * 100)} % from the top.`, SAY_MS);
    } else if (e.key === 'Enter' || e.key === ' ') {
      add(circle(ring ?? [.5, .5]), 'A ring is set.');
    } else if (e.key === 'Backspace' || e.key === 'Delete') {
      undo();
    } else {
      return;
    }
    e.preventDefault();
  });
  canvas.addEventListener('focus', () => { if (canvas.matches(':focus-visible')) { ring ??= [.5, .5]; draw(); } });
  canvas.addEventListener('blur', () => { ring = null; draw(); });
  view.addEventListener('keydown', e => { if (e.key === 'Escape') view.querySelector('[data-photo-close]').click(); });

  function say(words, after = 0) {
    clearTimeout(timer);
    timer = setTimeout(() => { said.textContent = words; }, after);
  }

  // ---- begin ------------------------------------------------------------------------------------------------------
  undoKey.addEventListener('click', undo);
  clearKey.addEventListener('click', clear);
  // The value of a hidden input is an attribute: what another tablet drew, or the journal put back, arrives here.
  new MutationObserver(read).observe(input, { attributes: true, attributeFilter: ['value'] });
  new ResizeObserver(draw).observe(canvas);
  scrollTo(0, 0);
  view.querySelector('#ph-title').focus({ preventScroll: true });
  read();
  draw();
}

const round = value => Math.round(value * 1000) / 1000;
const within = value => Math.min(1, Math.max(0, value));

// Everything that listens went with its elements.
export function dispose() { }
