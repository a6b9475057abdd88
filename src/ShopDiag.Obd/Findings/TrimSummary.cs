using System.Collections.Immutable;
using ShopDiag.Obd.Data;
using ShopDiag.Obd.Messages;

namespace ShopDiag.Obd.Findings;

/// <summary>
/// Trims by bank and engine state. A trim counts where the same control unit's engine speed is at idle or about 2500 rpm, the loop is not known to be open and the car is not
/// known to be rolling.
/// </summary>
internal static class TrimSummary
{
    /// <summary>Idle, rpm: common practice.</summary>
    private const double SlowestIdle = 400;

    private const double FastestIdle = 1200;

    /// <summary>"2500 rpm" with room, rpm: common practice.</summary>
    private const double SlowestHeld = 2250;

    private const double FastestHeld = 2750;

    /// <summary>Fastest that a standing car shows, km/h.</summary>
    private const double Standing = 3;

    /// <summary>How old engine speed, loop and car speed may be, in seconds, where the log has time stamps.</summary>
    private const double Fresh = 5;

    private static readonly ImmutableArray<string> Context = ["rpm", "kmPerHour", "fuelSystem1"];

    public static (ImmutableArray<TrimsFound> Trims, ImmutableArray<string> Remarks) From(IEnumerable<ObdRecord> answers)
    {
        var collected = new Collected();
        foreach (var record in answers.OfType<ValuesRecord>())
        {
            collected.Add(record);
        }

        return (collected.Trims(), collected.Remarks());
    }

    private sealed class Collected
    {
        private readonly Dictionary<(string Unit, string Key), (double? Seconds, ObdValue Value)> _context = [];
        private readonly Dictionary<(int Bank, TrimPoint At, bool Long), List<double>> _trims = [];
        private int _noSpeed;
        private int _open;
        private int _rolling;
        private int _between;

        public void Add(ValuesRecord record)
        {
            var unit = ObdFindings.UnitOf(record);
            foreach (var value in record.Values.Where(v => Context.Contains(v.Item.Key)))
            {
                _context[(unit, value.Item.Key)] = (record.Message.Seconds, value);
            }

            foreach (var value in record.Values)
            {
                if (Trim(value.Item.Key) is var (bank, isLong) && Point(unit, record.Message.Seconds) is { } at)
                {
                    var key = (bank, at, isLong);
                    (_trims.TryGetValue(key, out var list) ? list : _trims[key] = []).Add(value.Number!.Value);
                }
            }
        }

        public ImmutableArray<TrimsFound> Trims() =>
        [
            .. _trims.Keys.Select(k => (k.Bank, k.At)).Distinct().Order()
                .Where(k => _trims.ContainsKey((k.Bank, k.At, false)) && _trims.ContainsKey((k.Bank, k.At, true)))
                .Select(k =>
                {
                    var (shorts, longs) = (_trims[(k.Bank, k.At, false)], _trims[(k.Bank, k.At, true)]);
                    return new TrimsFound(k.Bank, k.At, Median(shorts), Median(longs), Math.Min(shorts.Count, longs.Count));
                }),
        ];

        public ImmutableArray<string> Remarks()
        {
            var remarks = ImmutableArray.CreateBuilder<string>();
            void Say(int count, string why)
            {
                if (count > 0)
                {
                    remarks.Add($"{MessageDecoder.Count(count, "fuel trim reading")} left out: {why}.");
                }
            }

            Say(_noSpeed, "the engine speed at that moment is not in the log, so idle and 2500 rpm cannot be told apart");
            Say(_open, "the mixture was in open loop");
            Say(_rolling, "the car was rolling");
            Say(_between, "the engine was neither at idle nor at about 2500 rpm");
            return remarks.ToImmutable();
        }

        private TrimPoint? Point(string unit, double? now)
        {
            if (Get(unit, "rpm", now) is not { Number: { } rpm })
            {
                _noSpeed++;
                return null;
            }

            if (Get(unit, "fuelSystem1", now) is { Raw: not (0 or 2 or 16) })
            {
                _open++;
                return null;
            }

            if (Get(unit, "kmPerHour", now) is { Number: > Standing })
            {
                _rolling++;
                return null;
            }

            TrimPoint? at = rpm switch
            {
                >= SlowestIdle and <= FastestIdle => TrimPoint.Idle,
                >= SlowestHeld and <= FastestHeld => TrimPoint.At2500,
                _ => null,
            };
            _between += at is null ? 1 : 0;
            return at;
        }

        private ObdValue? Get(string unit, string key, double? now) =>
            _context.TryGetValue((unit, key), out var known) && !(now - known.Seconds > Fresh) ? known.Value : null;

        private static (int Bank, bool IsLong)? Trim(string key) => key switch
        {
            ['s', 'h', 'o', 'r', 't', 'T', 'r', 'i', 'm', >= '1' and <= '4' and var bank] => (bank - '0', false),
            ['l', 'o', 'n', 'g', 'T', 'r', 'i', 'm', >= '1' and <= '4' and var bank] => (bank - '0', true),
            _ => null,
        };

        private static double Median(List<double> values)
        {
            var sorted = values.Order().ToList();
            return sorted.Count % 2 == 1 ? sorted[sorted.Count / 2] : (sorted[(sorted.Count / 2) - 1] + sorted[sorted.Count / 2]) / 2;
        }
    }
}
