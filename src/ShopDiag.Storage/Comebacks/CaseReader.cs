using System.Collections.Immutable;
using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Comebacks;

/// <summary>Reads the kept cases, past the object mapper: of a large shop there are hundreds of thousands.</summary>
/// <param name="db">A context of its own.</param>
/// <param name="zone">The shop's time zone.</param>
/// <param name="vehicle">Only the orders of this vehicle; null for all.</param>
internal sealed class CaseReader(ShopDb db, TimeZoneInfo zone, Guid? vehicle)
{
    // From the last backwards: what came after an order is known when it is read.
    internal const string Everything = "SELECT Number, Line FROM Cases ORDER BY Number DESC";
    internal const string OfOneVehicle = "SELECT Number, Line FROM Cases WHERE VehicleId = @vehicle ORDER BY Number DESC";

    /// <summary>Days are worked out once for so many seconds: no zone shifts its clock at another time than a quarter of an hour.</summary>
    private const long Quarter = 900;

    private readonly CaseLine _lines = new();
    private readonly Dictionary<long, DateOnly> _days = [];
    private readonly Dictionary<Guid, VehicleVisit> _last = [];
    private long _labourPerHour;

    /// <summary>The cases, by number.</summary>
    public async Task<ImmutableArray<RepairCase>> ReadAsync(CancellationToken cancel)
    {
        _labourPerHour = await db.Settings.AsNoTracking().Select(s => s.LabourPerHourMinor).FirstOrDefaultAsync(cancel).ConfigureAwait(false);
        await db.Database.OpenConnectionAsync(cancel).ConfigureAwait(false);
        var command = db.Database.GetDbConnection().CreateCommand();
        await using (command.ConfigureAwait(false))
        {
            Ask(command);
            var rows = await command.ExecuteReaderAsync(cancel).ConfigureAwait(false);
            await using (rows.ConfigureAwait(false))
            {
                return Cases(rows, cancel);
            }
        }
    }

    private void Ask(DbCommand command)
    {
        command.CommandText = vehicle is null ? Everything : OfOneVehicle;
        if (vehicle is { } one)
        {
            var parameter = command.CreateParameter();
            (parameter.ParameterName, parameter.Value) = ("@vehicle", one);
            command.Parameters.Add(parameter);
        }
    }

    // SQLite answers on the spot; asking row by row whether it is there yet would only cost time.
    private ImmutableArray<RepairCase> Cases(DbDataReader rows, CancellationToken cancel)
    {
        var cases = ImmutableArray.CreateBuilder<RepairCase>();
        while (rows.Read())
        {
            cases.Add(Case(rows.GetInt32(0), _lines.Read(rows.GetString(1))));
            if ((cases.Count & 0xFFF) == 0)
            {
                cancel.ThrowIfCancellationRequested();
            }
        }

        cases.Reverse();
        return cases.DrainToImmutable();
    }

    private RepairCase Case(int number, in KeptCase kept)
    {
        var came = Day(kept.CameIn);
        VehicleVisit? later = _last.TryGetValue(kept.VehicleId, out var last) ? last : null;
        if (later is null)
        {
            _last[kept.VehicleId] = new(came, kept.Kilometres);
        }

        return new()
        {
            Number = number,
            OrderId = kept.OrderId,
            VehicleId = kept.VehicleId,
            CameInOn = came,
            HandedOverOn = kept.HandedOver is { } at ? Day(at) : null,
            OdometerKm = kept.Kilometres,
            Repaired = kept.Repaired,
            Technician = kept.Technician,
            EngineFamily = kept.EngineFamily,
            Parts = kept.Parts,
            ProofGiven = kept.ProofGiven,
            RepairChecked = kept.RepairChecked,
            MinutesToProof = kept.MinutesToProof,
            MinutesAuthorised = kept.MinutesAuthorised,
            MinutesBilled = Billed(kept),
            MinutesSpent = kept.MinutesSpent,
            ComebackOf = kept.ComebackOf,
            Answer = kept.Answer,
            LastSeen = later,
        };
    }

    /// <summary>The diagnosis in minutes of the labour rate, once the car is handed over: time spent is kept of the diagnosis only.</summary>
    private int? Billed(in KeptCase kept) => kept is { HandedOver: not null, DiagnosisPriceMinor: { } minor } && _labourPerHour > 0
        ? (int)Math.Min(int.MaxValue, Math.Round(60m * minor / _labourPerHour, MidpointRounding.AwayFromZero))
        : null;

    private DateOnly Day(long seconds)
    {
        var quarter = Math.DivRem(seconds, Quarter).Quotient;
        return _days.TryGetValue(quarter, out var day) ? day : _days[quarter] = CaseRows.Day(DateTime.UnixEpoch.AddSeconds(quarter * Quarter), zone);
    }
}
