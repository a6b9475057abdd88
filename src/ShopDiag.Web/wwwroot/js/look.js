// Runs in the head, before anything is painted: puts the look chosen on this tablet on the root element.
(() => {
  let look = null;
  try { look = localStorage.getItem('look'); } catch { /* storage forbidden: paper */ }
  if (look === 'glare' || look === 'dark') document.documentElement.dataset.look = look;
})();
