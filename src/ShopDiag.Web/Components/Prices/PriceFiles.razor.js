// Sends the chosen file over HTTP, which a circuit would have to carry in pieces, and hands the answer back as JSON in a blob.
const wrong = error => new Blob([JSON.stringify({ added: 0, changed: 0, refused: [], error })]);

export async function send(input, largest) {
  const file = input.files[0];
  if (!file) return wrong('choose a file first.');
  // The server would break off in the middle, and the browser could not say why.
  if (file.size > largest) return wrong('the file is larger than 10 MB. Divide it, or take out what the list does not need.');
  try {
    const token = await (await fetch('/antiforgery-token', { cache: 'no-store' })).text();
    const answer = await fetch('/shop/prices.csv', { method: 'POST', headers: { RequestVerificationToken: token, 'Content-Type': 'text/csv' }, body: file });
    return answer.headers.get('Content-Type')?.startsWith('application/json') ? await answer.blob() : wrong(`the program answered ${answer.status}.`);
  } catch {
    return wrong('the program could not be reached, or the file has changed since it was chosen. Choose it again.');
  }
}
