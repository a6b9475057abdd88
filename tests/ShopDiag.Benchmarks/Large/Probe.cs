using System.Diagnostics;
using Microsoft.EntityFrameworkCore.Diagnostics;
namespace ShopDiag.Benchmarks;
public sealed class Probe : IObserver<DiagnosticListener>, IObserver<KeyValuePair<string, object?>>
{
    public static bool On;
    public static void Start() => DiagnosticListener.AllListeners.Subscribe(new Probe());
    public void OnNext(DiagnosticListener v) { if (v.Name == "Microsoft.EntityFrameworkCore") v.Subscribe(this); }
    public void OnNext(KeyValuePair<string, object?> v) { if (On && v.Value is CommandEndEventData d) Console.WriteLine($"{v.Key} {d.Duration.TotalMilliseconds:0.0} {d.Command.CommandText[..Math.Min(200, d.Command.CommandText.Length)]}"); }
    public void OnCompleted() { }
    public void OnError(Exception e) { }
}
