// The bar's own controls, which work without a connection, and small services to the pages.
window.shell = (() => {
  const root = document.documentElement;
  const remember = (key, value) => { try { localStorage.setItem(key, value); } catch { /* not remembered then */ } };

  const look = document.querySelector('[data-look-switch]');
  look.value = root.dataset.look ?? 'paper';
  look.addEventListener('change', () => {
    if (look.value === 'paper') delete root.dataset.look; else root.dataset.look = look.value;
    remember('look', look.value);
  });

  document.querySelectorAll('[data-reload]').forEach(b => b.addEventListener('click', () => location.reload()));

  // With a base address of "/" a plain #main would lead to the start page.
  document.querySelector('[data-skip]').addEventListener('click', e => {
    const main = document.querySelector('main');
    if (main) { e.preventDefault(); e.stopPropagation(); main.focus(); main.scrollIntoView(); }
  }, true);

  // Find without loading the whole page again; without a circuit the form works as any form.
  document.querySelector('[data-find]')?.addEventListener('submit', e => {
    if (!document.querySelector('main[data-interactive]') || root.dataset.connection === 'down') return;
    e.preventDefault();
    Blazor.navigateTo('/find?q=' + encodeURIComponent(e.target.elements.q.value));
  });

  // A touch on what needs the server while it is away would vanish without a trace.
  addEventListener('click', e => {
    if (root.dataset.connection !== 'down') return;
    const control = e.target.closest?.('main a[href], main button:not([data-offline])');
    if (control) { e.preventDefault(); e.stopPropagation(); document.getElementById('saving').scrollIntoView(); }
  }, true);

  // Copies a field. Straight in the touch: browsers do not allow it to what comes back from the server later.
  addEventListener('click', async e => {
    const button = e.target.closest?.('[data-copy]');
    if (!button) return;
    const field = document.getElementById(button.dataset.copy);
    field.focus();
    field.select();
    let done = false;
    try { await navigator.clipboard.writeText(field.value); done = true; } catch { done = document.execCommand('copy'); }
    document.getElementById(button.dataset.copied).textContent = done ? 'Copied.' : 'It is marked: copy it as you copy any text.';
  });

  // A field that takes no more letters says so: what the browser drops of a long text would otherwise be missed by nobody. Said below the field, gone with the next change that fits.
  const saidFull = new WeakMap();
  addEventListener('beforeinput', e => {
    const field = e.target;
    if (!(field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement) || field.maxLength < 0) return;
    const typed = e.data ?? e.dataTransfer?.getData('text/plain') ?? (e.inputType === 'insertLineBreak' ? '\n' : '');
    const left = field.maxLength - field.value.length + (field.selectionEnd - field.selectionStart);
    saidFull.get(field)?.remove();
    if (typed.length <= left) return;
    const note = document.createElement('p');
    note.className = 'field-message';
    note.setAttribute('role', 'alert');
    note.textContent = `At most ${field.maxLength} ${field.inputMode === 'numeric' || field.inputMode === 'decimal' ? 'signs' : 'letters'} fit here. The last ${typed.length - left} ${typed.length - left === 1 ? 'was' : 'were'} not taken.`;
    (field.closest('.field-line') ?? field).after(note);
    saidFull.set(field, note);
    field.addEventListener('blur', () => note.remove(), { once: true });
  }, true);

  return {
    // Marks the link of the page one is on.
    here: path => document.querySelectorAll('.bar nav a').forEach(a => {
      if (a.getAttribute('href') === path) a.setAttribute('aria-current', 'page'); else a.removeAttribute('aria-current');
    }),
    newOrder: () => {
      let id = null;
      try { id = sessionStorage.getItem('new-order'); } catch { /* a reload may then open a second order */ }
      if (!id) { id = journal.newId(); try { sessionStorage.setItem('new-order', id); } catch { /* as above */ } }
      return id;
    },
    orderOpened: () => { try { sessionStorage.removeItem('new-order'); } catch { /* was never kept */ } },
  };
})();
