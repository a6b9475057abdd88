// Passkeys (W3C Web Authentication): signing in without a password, and making one. Browsers have them on pages that are safe (https, or this computer) and have a name; an address of digits has none.
(() => {
  const possible = window.isSecureContext && window.PublicKeyCredential?.parseRequestOptionsFromJSON && PublicKeyCredential.prototype.toJSON && !/^[\d.]+$|:/.test(location.hostname);
  document.querySelectorAll('[data-passkeys]').forEach(part => { part.hidden = !possible; });
  document.querySelectorAll('[data-no-passkeys]').forEach(part => { part.hidden = !!possible; });
  if (!possible) return;

  async function ask(path, body) {
    const answer = await fetch(path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body ?? {}) });
    if (!answer.ok) throw new Error(answer.status === 400 ? await answer.json() : 'The shop did not answer as it should. Try once more.');
    return answer.status === 204 ? null : answer.json();
  }

  // What the browser says when somebody turned away, and when the passkey is there already, is for programmers.
  const words = e => ({ NotAllowedError: 'Nothing was done: it was turned away, or took too long.', InvalidStateError: 'This device has a passkey for you already.' }[e.name] ?? e.message);

  function on(name, act) {
    const button = document.querySelector(`[data-passkey="${name}"]`), said = document.querySelector('[data-passkey-said]');
    button?.addEventListener('click', async () => {
      button.disabled = true;
      said.textContent = '';
      try { await act(button); } catch (e) { said.textContent = words(e); button.disabled = false; }
    });
  }

  on('sign-in', async button => {
    const publicKey = PublicKeyCredential.parseRequestOptionsFromJSON(await ask('/passkeys/sign-in/options'));
    await ask('/passkeys/sign-in', { credential: (await navigator.credentials.get({ publicKey })).toJSON() });
    location.assign(button.dataset.to);
  });

  on('add', async () => {
    const publicKey = PublicKeyCredential.parseCreationOptionsFromJSON(await ask('/passkeys/options'));
    await ask('/passkeys', { credential: (await navigator.credentials.create({ publicKey })).toJSON(), name: document.getElementById('passkey-name').value });
    location.assign('/me?done=passkey');
  });
})();
