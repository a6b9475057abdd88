using Microsoft.Playwright;
using ShopDiag.Signals.Measured.Engines;

namespace ShopDiag.Browser.Tests.Running;

/// <summary>
/// A synthetic engine at the tablet's microphone and a technician who does what the screen says, a moment later: he reads it as anybody would, so that a machine that is slow
/// delays both alike. The microphone is asked for as the page asks; what comes out of it is the engine, in stretches that were worked out beforehand.
/// </summary>
public static class EngineInTheEar
{
    private const int Rate = 16000;
    private const double SteadyFrom = 2;
    private const double Off = 10;
    private const double Restored = 24;
    private const double End = 44;

    /// <summary>Puts the engine before every page of the tab. <paramref name="strength"/> is the share of the work, in firing order.</summary>
    public static async Task PutAsync(IPage page, IReadOnlyList<int> firingOrder, double[] strength)
    {
        foreach (var cylinder in firingOrder.Order())
        {
            var sound = Sound(strength, Array.IndexOf([.. firingOrder], cylinder));
            await ServeAsync(page, $"{cylinder}-off", sound[At(Off)..At(Restored)]);
            await ServeAsync(page, $"{cylinder}-back", sound[At(Restored)..At(End)]);
            if (cylinder == firingOrder.Min())
            {
                await ServeAsync(page, "steady", sound[At(SteadyFrom)..At(Off)]);
            }
        }

        await page.AddInitScriptAsync(Script);
    }

    /// <summary>The processing that the page did not forbid when it asked for the microphone; all three must be off, or the browser takes the engine for noise.</summary>
    public static Task<string[]> LeftOnAsync(IPage page) =>
        page.EvaluateAsync<string[]>("['echoCancellation', 'noiseSuppression', 'autoGainControl'].filter(s => window.askedFor?.[s] !== false)");

    private static float[] Sound(double[] strength, int fires)
    {
        // The idle control is fixed, as one does for the test: it would go on learning for as long as the stretch lasts, and not for as long as the hand holds.
        var plan = new EnginePlan
        {
            Cylinders = strength.Length, IdleRpm = 750, Strength = strength, Held = [new(fires, Off, Restored)], Seconds = End, Wander = 0.003, Hold = IdleHold.None,
        };
        return EngineVoice.Sound(CrankSimulation.Run(plan, 72), strength.Length, new Microphone(), Rate, 73);
    }

    private static int At(double seconds) => (int)(seconds * Rate);

    private static async Task ServeAsync(IPage page, string name, float[] sound)
    {
        var wav = WavFile.Of(sound, Rate);
        await page.RouteAsync($"**/in-the-ear/{name}.wav", route => route.FulfillAsync(new() { ContentType = "audio/wav", BodyBytes = wav }));
    }

    // language=javascript
    private const string Script = """
        (() => {
          const HAND_MS = 1200, real = navigator.mediaDevices?.getUserMedia?.bind(navigator.mediaDevices);
          if (!real) return;
          navigator.mediaDevices.getUserMedia = async asked => {
            window.askedFor = asked.audio;
            (await real(asked)).getTracks().forEach(t => t.stop());
            const ear = new AudioContext({ sampleRate: 16000 }), out = ear.createMediaStreamDestination(), known = {};
            const stretch = async name => known[name] ??= await ear.decodeAudioData(await (await fetch(`/in-the-ear/${name}.wav`)).arrayBuffer());
            const names = ['steady', ...[1, 2, 3, 4].flatMap(c => [`${c}-off`, `${c}-back`])];
            await Promise.all(names.map(stretch));
            let playing = null;
            const play = name => {
              if (playing) { playing.onended = null; playing.stop(); }
              playing = ear.createBufferSource();
              playing.buffer = known[name];
              // An engine that was restored goes on running; one that is never restored stays rough.
              playing.loop = !name.endsWith('-back');
              playing.onended = () => play('steady');
              playing.connect(out);
              playing.start();
            };
            let done = '';
            setInterval(() => {
              const phase = document.querySelector('.br-run')?.dataset.phase, title = document.querySelector('.br-title')?.textContent ?? '';
              const word = /^(Cancel|Restore) cylinder (\d+)$/.exec(title.trim());
              if (!word || phase === 'Ready' || word[0] === done) return;
              done = word[0];
              setTimeout(() => play(`${word[2]}-${word[1] === 'Cancel' ? 'off' : 'back'}`), HAND_MS);
            }, 50);
            play('steady');
            return out.stream;
          };
        })();
        """;
}
