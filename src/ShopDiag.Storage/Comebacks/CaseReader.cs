using System.Collections.Immutable;
using System.Data;
using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Comebacks;

/// <summary>
/// Reads the kept cases, past the object mapper: of a large shop there are hundreds of thousands, and mapping them took three times as long as reading them. Texts that stand in many
/// rows (a technician, a cause at its place) are made once.
/// </summary>
/// <param name="db">A context of its own.</param>
/// <param name="zone">The shop's time zone.</param>
/// <param name="vehicle">Only the orders of this vehicle; null for all.</param>
internal sealed class CaseReader(ShopDb db, TimeZoneInfo zone, Guid? vehicle)
{
    private const string Columns =
        "SELECT Number, OrderId, VehicleId, CameIn, HandedOver, Kilometres, Repaired, Technician, EngineFamily, Parts, ProofGiven, RepairChecked, MinutesToProof, MinutesAuthorised, DiagnosisPriceMinor, MinutesSpent, ComebackOf, Answer FROM Cases";

    /// <summary>Days are worked out once for so many seconds: no zone shifts its clock at another time than a quarter of an hour.</summary>
    private const long Quarter = 900;

    private readonly Dictionary<string, string> _texts = new(StringComparer.Ordinal);
    private readonly Dictionary<string, ImmutableArray<RepairedCause>> _repaired = new(StringComparer.Ordinal) { [""] = [] };
    private readonly Dictionary<string, ImmutableArray<FittedPart>> _parts = new(StringComparer.Ordinal) { [""] = [] };
    private readonly Dictionary<long, DateOnly> _days = [];
    private long _labourPerHour;

    /// <summary>The cases, by number.</summary>
    public async Task<ImmutableArray<RepairCase>> ReadAsync(CancellationToken cancel)
    {
        _labourPerHour = await db.Settings.AsNoTracking().Select(s => s.LabourPerHourMinor).FirstOrDefaultAsync(cancel).ConfigureAwait(false);
        await db.Database.OpenConnectionAsync(cancel).ConfigureAwait(false);
        var command = db.Database.GetDbConnection().CreateCommand();
        await using (command.ConfigureAwait(false))
        {
            command.CommandText = Ask(command);
            var rows = await command.ExecuteReaderAsync(CommandBehavior.SequentialAccess, cancel).ConfigureAwait(false);
            await using (rows.ConfigureAwait(false))
            {
                return WithLaterVisits(Cases(rows, cancel));
            }
        }
    }

    private string Ask(DbCommand command)
    {
        if (vehicle is not { } one)
        {
            return $"{Columns} ORDER BY Number";
        }

        var parameter = command.CreateParameter();
        (parameter.ParameterName, parameter.Value) = ("@vehicle", one);
        command.Parameters.Add(parameter);
        return $"{Columns} WHERE VehicleId = @vehicle ORDER BY Number";
    }

    // SQLite answers on the spot; asking row by row whether it is there yet would only cost time.
    private List<RepairCase> Cases(DbDataReader rows, CancellationToken cancel)
    {
        var cases = new List<RepairCase>();
        while (rows.Read())
        {
            cases.Add(Case(rows));
            if ((cases.Count & 0xFFF) == 0)
            {
                cancel.ThrowIfCancellationRequested();
            }
        }

        return cases;
    }

    private RepairCase Case(DbDataReader row) => new()
    {
        Number = row.GetInt32(0),
        OrderId = row.GetGuid(1),
        VehicleId = row.GetGuid(2),
        CameInOn = Day(row.GetInt64(3)),
        HandedOverOn = row.IsDBNull(4) ? null : Day(row.GetInt64(4)),
        OdometerKm = Whole(row, 5),
        Repaired = Known(_repaired, row.GetString(6), StorageJson.Read<ImmutableArray<RepairedCause>>),
        Technician = Known(_texts, row.GetString(7), t => t),
        EngineFamily = Known(_texts, row.GetString(8), t => t),
        Parts = Known(_parts, row.GetString(9), StorageJson.Read<ImmutableArray<FittedPart>>),
        ProofGiven = row.IsDBNull(10) ? null : row.GetBoolean(10),
        RepairChecked = row.IsDBNull(11) ? null : row.GetBoolean(11),
        MinutesToProof = row.IsDBNull(12) ? null : row.GetDouble(12),
        MinutesAuthorised = Whole(row, 13),
        MinutesBilled = Billed(row.IsDBNull(4), row.IsDBNull(14) ? null : row.GetInt64(14)),
        MinutesSpent = Whole(row, 15),
        ComebackOf = row.IsDBNull(16) ? null : row.GetGuid(16),
        Answer = (ComebackAnswer)row.GetInt32(17),
    };

    /// <summary>The diagnosis in minutes of the labour rate, once the car is handed over: time spent is kept of the diagnosis only.</summary>
    private int? Billed(bool inTheBuilding, long? price) => !inTheBuilding && price is { } minor && _labourPerHour > 0
        ? (int)Math.Min(int.MaxValue, Math.Round(60m * minor / _labourPerHour, MidpointRounding.AwayFromZero))
        : null;

    private DateOnly Day(long seconds)
    {
        var quarter = Math.DivRem(seconds, Quarter).Quotient;
        return _days.TryGetValue(quarter, out var day) ? day : _days[quarter] = CaseRows.Day(DateTime.UnixEpoch.AddSeconds(quarter * Quarter), zone);
    }

    private static int? Whole(DbDataReader row, int column) => row.IsDBNull(column) ? null : row.GetInt32(column);

    private static T Known<T>(Dictionary<string, T> known, string text, Func<string, T> make) => known.TryGetValue(text, out var value) ? value : known[text] = make(text);

    /// <summary>Puts on each case the last visit of its vehicle after it; the last order of a vehicle has none.</summary>
    private static ImmutableArray<RepairCase> WithLaterVisits(List<RepairCase> cases)
    {
        var last = new Dictionary<Guid, RepairCase>();
        var made = ImmutableArray.CreateBuilder<RepairCase>(cases.Count);
        for (var i = cases.Count - 1; i >= 0; i--)
        {
            var one = cases[i];
            if (last.TryGetValue(one.VehicleId, out var later))
            {
                made.Add(one with { LastSeen = new(later.CameInOn, later.OdometerKm) });
            }
            else
            {
                last[one.VehicleId] = one;
                made.Add(one);
            }
        }

        made.Reverse();
        return made.MoveToImmutable();
    }
}
