using System.Globalization;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Logs;

/// <summary>Answers that a control unit announced (7F, service, 78) and that must come within P2*, 5 s (ISO 15765-4, from memory).</summary>
internal sealed class PendingAnswers
{
    private const double LongestWait = 5.0;

    private readonly Dictionary<(string Channel, string Unit, int Service), (int Line, double? Seconds)> _open = [];

    /// <summary>Takes the next record; words when it is an announced answer that came too late.</summary>
    public string? Add(ObdRecord record)
    {
        var message = record.Message;
        if (record is RefusalRecord { IsPending: true } pending)
        {
            _open[Key(message, pending.Service)] = (message.Line, message.Seconds);
            return null;
        }

        if (!message.IsAnswer || message.Bytes.IsEmpty)
        {
            return null;
        }

        var service = record is RefusalRecord refusal ? refusal.Service : message.Bytes[0] - 0x40;
        return _open.Remove(Key(message, service), out var announced) && message.Seconds - announced.Seconds > LongestWait
            ? string.Create(CultureInfo.InvariantCulture, $"the answer announced in line {announced.Line} came after {message.Seconds - announced.Seconds:0.0} s; {LongestWait:0} s are allowed. It was read all the same.")
            : null;
    }

    public IEnumerable<string> Unanswered() => _open.OrderBy(o => o.Value.Line)
        .Select(o => string.Create(CultureInfo.InvariantCulture, $"{(o.Key.Unit.Length > 0 ? o.Key.Unit + ": " : "")}the answer to service {o.Key.Service:X2} that was announced in line {o.Value.Line} never came."));

    private static (string Channel, string Unit, int Service) Key(ObdMessage message, int service) => (message.Channel, message.Id?.ToString() ?? "", service);
}
