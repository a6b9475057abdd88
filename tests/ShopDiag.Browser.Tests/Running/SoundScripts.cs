namespace ShopDiag.Browser.Tests.Running;

/// <summary>What is run within a page of a balance run.</summary>
public static class SoundScripts
{
    /// <summary>Notes the shaking and the tones that a page gives, in <c>window.cues</c>.</summary>
    // language=javascript
    public const string CuesAreNoted = """
        (() => {
          window.cues = [];
          Object.defineProperty(navigator, 'vibrate', { value: shake => window.cues.push(`shake ${[shake].flat()}`) });
          const start = OscillatorNode.prototype.start;
          OscillatorNode.prototype.start = function (...when) { window.cues.push(`tone ${this.frequency.value}`); start.apply(this, when); };
        })();
        """;

    /// <summary>Notes what the large card and the second hand of a run said, in <c>window.titles</c> and <c>window.counts</c>: some of it stands there for two seconds only.</summary>
    // language=javascript
    public const string WordsAreNoted = """
        (() => {
          [window.titles, window.counts] = [[], []];
          const note = (list, text) => { if (text && list.at(-1) !== text) list.push(text); };
          const said = selector => document.querySelector(selector)?.textContent.trim();
          new MutationObserver(() => {
            note(window.titles, said('.br-title'));
            note(window.counts, said('[data-br-count]'));
          }).observe(document, { subtree: true, childList: true, characterData: true });
        })();
        """;

    /// <summary>Plays <c>/in-the-ear/run.wav</c> to the browser's own recorder (Opus in WebM), chooses that file as a person would, and gives its type.</summary>
    // language=javascript
    public const string RecordedByTheBrowser = """
        async () => {
          const player = new AudioContext(), out = player.createMediaStreamDestination(), source = player.createBufferSource();
          source.buffer = await player.decodeAudioData(await (await fetch('/in-the-ear/run.wav')).arrayBuffer());
          source.connect(out);
          const recorder = new MediaRecorder(out.stream, { mimeType: 'audio/webm;codecs=opus' }), parts = [];
          recorder.ondataavailable = e => parts.push(e.data);
          const over = new Promise(done => recorder.onstop = done);
          await player.resume();
          recorder.start(1000);
          source.start();
          await new Promise(done => source.onended = done);
          recorder.stop();
          await over;
          const chosen = new DataTransfer(), input = document.querySelector('#br-file');
          chosen.items.add(new File(parts, 'run.webm', { type: 'audio/webm' }));
          input.files = chosen.files;
          input.dispatchEvent(new Event('change', { bubbles: true }));
          return input.files[0].type;
        }
        """;
}
