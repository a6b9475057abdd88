// Starts the circuit and says in the bar how it stands with the connection and with what was entered.
(() => {
  const SAVING_MS = 3000; // An entry younger than this is on its way, not stuck.
  const line = document.getElementById('saving');
  let down = false, disabled = [];

  const entries = n => n === 1 ? '1 entry' : `${n} entries`;
  const clock = d => [d.getHours(), d.getMinutes(), d.getSeconds()].map(x => String(x).padStart(2, '0')).join(':');

  function words() {
    const { count, begun, age, savedAt, others } = journal.pending();
    if (down) return ['down', count + begun ? `No connection. Keep typing: ${entries(count + begun)} kept on this tablet, sent on return.` : 'No connection. Keep typing: entries are kept on this tablet and sent on return.'];
    if (count && age > SAVING_MS) return ['waiting', `Not saved: ${entries(count)} kept on this tablet`];
    if (count) return ['busy', 'Saving…'];
    if (others.length) return ['others', `On this tablet, until they sign in here again: ${others.map(o => `${entries(o.count)} of ${o.name}`).join(', ')}`];
    return savedAt ? ['saved', `Saved ${clock(savedAt)}`] : ['idle', ''];
  }

  function show() {
    const [state, text] = words();
    if (line.dataset.state !== state) line.dataset.state = state;
    if (line.textContent !== text) line.textContent = text;
  }

  // What needs the server says so while it is away; fields stay open, the journal keeps them.
  function needServer(away) {
    if (away) {
      disabled = [...document.querySelectorAll('main button:not([aria-disabled]):not([data-offline])')];
      disabled.forEach(b => b.setAttribute('aria-disabled', 'true'));
    } else {
      disabled.forEach(b => b.removeAttribute('aria-disabled'));
      disabled = [];
    }
  }

  function setDown(away) {
    if (away === down) return;
    down = away;
    document.documentElement.dataset.connection = down ? 'down' : 'up';
    needServer(down);
    show();
  }

  document.getElementById('components-reconnect-modal').addEventListener('components-reconnect-state-changed', e => {
    switch (e.detail.state) {
      case 'show': case 'retrying': case 'paused': setDown(true); break;
      case 'hide': setDown(false); setTimeout(journal.connectionBack, 200); break;
      // The server no longer knows this page: begin it again, the journal puts back what was typed.
      case 'failed': case 'rejected': case 'resume-failed': location.reload(); break;
    }
  });

  // A tablet that slept may wake with a socket that only looks alive; the circuit is gone after ten minutes (WebApp.cs).
  addEventListener('visibilitychange', async () => {
    if (document.visibilityState !== 'visible' || !down) return;
    try { if (!await Blazor.reconnect()) location.reload(); else setDown(false); } catch { /* still away; the retries go on */ }
  });

  journal.onchange(show);
  setInterval(show, 1000);

  // On a static page there is nothing to connect to, and the word on the connection would be wrong.
  Blazor.registerCustomEventType('journalled', { browserEventName: 'input', createEventArgs: journal.eventArgs });
  Blazor.registerCustomEventType('cellpressed', { browserEventName: 'click', createEventArgs: e => ({ key: e.target.closest?.('[data-cell]')?.dataset.cell ?? '' }) });
  Blazor.start({
    circuit: {
      // Two seconds of silence are a hiccup, nine a lost connection; the server keeps the same times.
      configureSignalR: b => b.withServerTimeout(9000).withKeepAliveInterval(3000),
      reconnectionOptions: { maxRetries: 100000, retryIntervalMilliseconds: n => n < 3 ? 500 : Math.min(5000, 1000 * n) },
    },
  });
})();
