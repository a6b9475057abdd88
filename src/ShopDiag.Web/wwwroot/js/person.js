// Who is signed in on this tablet: locks it when nobody touches it, tells the other tabs when somebody else signs in, and fills in the PIN.
(() => {
  const { person, lockMinutes } = document.body.dataset;

  // ---- other tabs ------------------------------------------------------------------------------------------------
  // They share the cookie of the sign-in: a tab of another person would go on under the wrong name.
  if ('BroadcastChannel' in window) {
    const channel = new BroadcastChannel('shopdiag-person');
    channel.onmessage = e => {
      if (person && e.data !== person) location.reload();
      // Locked together with the other tab, and opened together with it.
      else if (!person && e.data && location.pathname === '/switch') {
        const back = new URL(new URLSearchParams(location.search).get('return') ?? '/orders', location.origin);
        if (back.origin === location.origin) location.replace(back);
      }
    };
    channel.postMessage(person ?? '');
  }

  // ---- locking ---------------------------------------------------------------------------------------------------
  const form = document.querySelector('form[data-lock]');
  form?.addEventListener('submit', () => { form.elements.to.value = '/switch?return=' + encodeURIComponent(location.pathname + location.search); });

  const limit = Number(lockMinutes ?? 0) * 60000;
  let touched = Date.now();
  if (form && limit > 0) {
    ['pointerdown', 'keydown', 'input', 'wheel', 'touchmove'].forEach(kind => addEventListener(kind, () => { touched = Date.now(); }, { capture: true, passive: true }));
    setInterval(lock, Math.min(limit / 4, 5000));
    addEventListener('visibilitychange', lock);
  }

  // Not while an engine is being heard, which takes minutes without a touch; not while the server is away: nobody could unlock it; not before what was entered is saved under the right name.
  function lock() {
    if (Date.now() - touched < limit || document.visibilityState === 'hidden') return;
    if (document.querySelector('.br-run') || document.documentElement.dataset.connection === 'down' || journal.pending().count > 0) return;
    form.requestSubmit();
  }

  // ---- the PIN ---------------------------------------------------------------------------------------------------
  // The pad is for fingers in gloves; the keyboard works as well. Without scripts the field and its button are enough.
  const pad = document.querySelector('[data-pin-pad]'), pin = document.querySelector('[data-pin]');
  if (pad) {
    pad.hidden = false;
    pad.addEventListener('click', e => {
      const digit = e.target.closest('[data-digit]')?.dataset.digit;
      if (!digit) return;
      pin.value = digit === '⌫' ? pin.value.slice(0, -1) : (pin.value + digit).slice(0, pin.maxLength);
    });
  }
})();
