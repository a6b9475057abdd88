// What the workup page does in the browser: the number pad, choices, keys held back while a cell changes, arrow keys on the sheet.
// Everything typed goes through an input event, so that the journal has it before the server hears of it.
let field = null;   // The number field entered last: what the pad types into.
let held = null;    // Keys typed between Enter and the next field, or null: a fast hand must not type into the cell it has left.
let holdTimer = 0;
const HOLD_MS = 15000, SETTLE_MS = 1500;
const listeners = new AbortController();

const on = (type, handler, capture = false) => document.addEventListener(type, handler, { capture, signal: listeners.signal });
const entered = el => el.dispatchEvent(new Event('input', { bubbles: true }));

function press(key) {
  if (held) { held.push(key); return; }
  const el = field?.isConnected ? field : document.querySelector('[data-entry] input[data-pad]');
  if (!el) return;
  let { value, selectionStart: start, selectionEnd: end } = el;
  start ??= value.length; end ??= value.length;
  if (key === 'Backspace') {
    if (start === end) start = Math.max(0, start - 1);
    value = value.slice(0, start) + value.slice(end);
  } else if (key === '-') {
    value = /^[-−]/.test(value) ? value.slice(1) : '-' + value;
    start = value.length;
  } else {
    if (value.length - (end - start) >= el.maxLength) return;
    value = value.slice(0, start) + key + value.slice(end);
    start += 1;
  }
  el.value = value;
  el.setSelectionRange(start, start);
  entered(el);
}

// While there is no connection the answer cannot come: the Enter waits, however long it takes.
function hold() {
  held ??= [];
  clearTimeout(holdTimer);
  holdTimer = setTimeout(() => { if (document.documentElement.dataset.connection === 'down') hold(); else held = null; }, HOLD_MS);
}

// That a test cannot be taken, sent into a dead connection, is sent again like an Enter. Once it has arrived, its form is gone.
let sent = null, sentTimer = 0;
function send(form) {
  sent = form;
  clearTimeout(sentTimer);
  sentTimer = setTimeout(() => { if (document.documentElement.dataset.connection === 'down') send(sent); else sent = null; }, HOLD_MS);
}

function release() {
  clearTimeout(holdTimer);
  const keys = held ?? [];
  held = null;
  for (const key of keys) {
    if (key !== 'Enter') { press(key); continue; }
    field?.form?.requestSubmit();
    held = keys.slice(keys.indexOf(key) + 1);
    return;
  }
}

function choose(button) {
  const group = button.closest('[data-choices]');
  const input = document.getElementById(group.dataset.choices);
  const id = button.dataset.choice;
  if (group.hasAttribute('data-several')) {
    const chosen = new Set(input.value.split(',').filter(v => v && v !== '-')); // A touch takes back "none".
    if (!chosen.delete(id)) chosen.add(id);
    input.value = [...chosen].join(',');
  } else {
    input.value = id;
  }
  // "None" may stand in a group of its own beside the choices: both write into one input.
  const pressed = new Set(group.hasAttribute('data-several') ? input.value.split(',') : [input.value]);
  document.querySelectorAll(`[data-choices="${CSS.escape(input.id)}"] [data-choice]`).forEach(b => b.setAttribute('aria-pressed', pressed.has(b.dataset.choice)));
  entered(input);
}

// An Enter that went into a dead connection is given again once there is one; if it had arrived, the server has moved on by then.
document.getElementById('components-reconnect-modal')?.addEventListener('components-reconnect-state-changed', e => {
  if (e.detail.state === 'hide' && sent) setTimeout(() => { if (sent?.isConnected) sent.requestSubmit(); sent = null; }, SETTLE_MS);
  if (e.detail.state === 'hide' && held) setTimeout(() => { if (held) document.querySelector('[data-entry-form]')?.requestSubmit(); }, SETTLE_MS);
}, { signal: listeners.signal });

// The first column of a cell.
const columnOf = cell => { const td = cell.closest('td'); return [...td.parentElement.cells].slice(0, td.cellIndex).reduce((columns, c) => columns + c.colSpan, 0); };

// The cell beside, above or below: columns are counted in cylinders, a cell for the whole engine lies under all of them.
function neighbour(cell, key) {
  const cells = [...cell.closest('tr').querySelectorAll('[data-cell]')];
  if (key === 'ArrowLeft' || key === 'ArrowRight') return cells[cells.indexOf(cell) + (key === 'ArrowRight' ? 1 : -1)];
  if (key === 'Home') return cells[0];
  if (key === 'End') return cells[cells.length - 1];
  const rows = [...cell.closest('table').querySelectorAll('tr')].filter(r => r.querySelector('[data-cell]'));
  const row = rows[rows.indexOf(cell.closest('tr')) + (key === 'ArrowDown' ? 1 : -1)];
  const column = Number(cell.closest('table').dataset.at ?? columnOf(cell));
  return row && [...row.querySelectorAll('[data-cell]')].find(c => columnOf(c) <= column && column < columnOf(c) + c.closest('td').colSpan);
}

function rove(cell, key) {
  const table = cell.closest('table');
  table.querySelectorAll('[data-cell][tabindex="0"]').forEach(c => { c.tabIndex = -1; });
  cell.tabIndex = 0;
  if (key !== 'ArrowUp' && key !== 'ArrowDown') table.dataset.at = columnOf(cell);
}

// Scrolls no further than needed to bring an element out from under what stays at the top and at the bottom.
function reveal(el) {
  const box = el.getBoundingClientRect();
  const top = document.querySelector('.wk-top'), dock = document.querySelector('.wk-dock');
  const upright = top && getComputedStyle(top.parentElement).display === 'block';
  const above = upright ? Math.max(0, top.getBoundingClientRect().bottom) : 0;
  const below = dock ? dock.getBoundingClientRect().top : innerHeight;
  if (box.bottom > below) scrollBy({ top: Math.min(box.bottom - below + 8, box.top - above - 8) });
  else if (box.top < above) scrollBy({ top: box.top - above - 8 });
}

// What comes into the dock after the entry was opened (what was saved, photos, a message) would cover the cell that is being filled.
let docked = null;
const grown = new ResizeObserver(() => {
  const cell = docked.isConnected && docked.classList.contains('wk-dock-open') && document.querySelector('[data-cell].wk-selected');
  if (cell) reveal(cell);
});
function watchDock() {
  const dock = document.querySelector('.wk-dock');
  if (dock === docked) return;
  grown.disconnect();
  docked = dock;
  if (dock) grown.observe(dock);
}

// How far the sheet must scroll sideways to show a cell beside the test's name, which stays.
function sideways(cell) {
  const box = cell.getBoundingClientRect(), frame = cell.closest('.wk-sheet-scroll').getBoundingClientRect();
  const left = cell.closest('tr').firstElementChild.getBoundingClientRect().right;
  return box.right > frame.right ? Math.min(box.right - frame.right, box.left - left) : Math.min(0, box.left - left);
}

on('pointerdown', e => { if (e.target.closest?.('[data-key], .wk-enter')) e.preventDefault(); }); // The field keeps the focus while the pad is touched.
on('click', e => {
  const key = e.target.closest?.('[data-key]'), choice = e.target.closest?.('[data-choice]');
  if (key) press(key.dataset.key);
  if (choice && choice.getAttribute('aria-disabled') !== 'true') choose(choice);
});
// Without a connection Blazor lets the browser have the event, which would leave the page.
on('submit', e => {
  if (e.target.closest('[data-entry-form]')) { e.preventDefault(); hold(); }
  if (e.target.closest('[data-obstacle-form]')) { e.preventDefault(); send(e.target); }
}, true);
on('focusin', e => {
  if (e.target.matches?.('input[data-pad]')) field = e.target;
  if (e.target.matches?.('[data-cell]')) rove(e.target);
  if (e.target.closest?.('.wk-work') && !e.target.closest('.wk-dock')) reveal(e.target);
});
on('keydown', e => {
  if (held && !e.ctrlKey && !e.metaKey && !e.altKey && (/^[0-9.,\-]$/.test(e.key) || e.key === 'Backspace' || e.key === 'Enter')) {
    e.preventDefault(); e.stopPropagation(); held.push(e.key === ',' ? '.' : e.key); return;
  }
  if (e.key === 'Escape') { document.querySelector('.wk:not([hidden]) [data-entry] [data-close]')?.click(); return; }
  if (e.key === 'Enter' && e.target.matches?.('[data-choices]')) { e.preventDefault(); e.target.closest('form')?.requestSubmit(); return; }
  const cell = e.target.closest?.('[data-cell]');
  if (cell && ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', 'Home', 'End'].includes(e.key)) {
    e.preventDefault();
    const next = neighbour(cell, e.key);
    if (next) { next.closest('.wk-sheet-scroll').scrollLeft += sideways(next); next.focus({ preventScroll: true }); rove(next, e.key); }
  }
}, true);

// The sheet can be entered by keyboard from the start.
export function start() {
  const first = document.querySelector('[data-sheet] [data-cell]');
  if (first && !document.querySelector('[data-sheet] [data-cell][tabindex="0"]')) first.tabIndex = 0;
}

// Puts the cursor into a field: a number ready to be typed over, or the group of choices; then what was typed meanwhile follows.
// Where something is wrong with the field (stay) the hand has run ahead of the eye: what was typed meanwhile was meant for another
// cell and is dropped, and the text is not selected, so that blind typing makes it longer, never right.
export function focus(id, stay) {
  if (stay) held = null;
  const el = document.getElementById(id), entry = el?.closest('.wk-entry');
  if (entry && !stay) entry.scrollTop = 0; // A test that is opened begins at its top, however far the one before was scrolled.
  if (el?.type === 'hidden') {
    const group = document.querySelector(`[data-choices="${id}"]`);
    if (group) { group.tabIndex = -1; group.focus({ preventScroll: true }); }
  } else if (el) {
    el.focus({ preventScroll: true });
    if (!el.select) return;
    if (stay) el.setSelectionRange(el.value.length, el.value.length); else el.select();
  }
  watchDock();
  const cell = document.querySelector('[data-cell].wk-selected');
  if (cell) { cell.closest('.wk-sheet-scroll').scrollLeft += sideways(cell); reveal(cell); }
  const panel = el?.closest('.wk-entry'), place = el?.closest('.wk-field');
  if (panel && place) {
    const within = place.getBoundingClientRect(), frame = panel.getBoundingClientRect();
    if (within.bottom > frame.bottom) panel.scrollTop += within.bottom - frame.bottom + 8;
    else if (within.top < frame.top) panel.scrollTop += within.top - frame.top - 8;
  }
  release();
}

// Back to the sheet, at the cell that was open.
export function focusCell(cell) {
  held = null;
  const el = document.querySelector(`[data-cell="${CSS.escape(cell)}"]`);
  if (el) { rove(el); el.focus({ preventScroll: true }); }
}

export function show(id) {
  const el = document.getElementById(id);
  if (el) { el.tabIndex = -1; el.focus({ preventScroll: true }); el.scrollIntoView({ block: 'start' }); }
}

export function bringUp(id) { document.getElementById(id)?.scrollIntoView({ block: 'nearest' }); }

export function unroll(id) {
  const el = document.getElementById(id), frame = el?.closest('.wk-do');
  if (frame) frame.scrollTop += el.getBoundingClientRect().top - frame.getBoundingClientRect().top - 72;
}

// The reading is with the journal now: the texts it was made of are no longer drafts.
export function forget(keys) { keys.forEach(window.journal.forget); }

// The drafts of an order's cells that are on this tablet.
export function drafts(prefix) { return window.journal.drafts(prefix); }

export function dispose() { listeners.abort(); clearTimeout(holdTimer); clearTimeout(sentTimer); }
