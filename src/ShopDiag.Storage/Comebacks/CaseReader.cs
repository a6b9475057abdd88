using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Comebacks;

/// <summary>Reads kept cases, past the object mapper: of a large shop there are hundreds of thousands. What came after each order is not on them yet (<see cref="LaterVisits"/>).</summary>
/// <param name="db">A context of its own.</param>
/// <param name="zone">The shop's time zone.</param>
/// <param name="labourPerHour">The labour rate in minor units, or 0: minutes billed follow from it.</param>
internal sealed class CaseReader(ShopDb db, TimeZoneInfo zone, long labourPerHour)
{
    /// <summary>All cases.</summary>
    internal const string Everything = "SELECT Number, Line FROM Cases ORDER BY Number";

    /// <summary>Those of one vehicle.</summary>
    internal const string OfOneVehicle = "SELECT Number, Line FROM Cases WHERE VehicleId = @key ORDER BY Number";

    /// <summary>That of one order.</summary>
    internal const string OfOneOrder = "SELECT Number, Line FROM Cases WHERE OrderId = @key";

    /// <summary>Days are worked out once for so many seconds: no zone shifts its clock at another time than a quarter of an hour.</summary>
    private const long Quarter = 900;

    private readonly CaseLine _lines = new();
    private readonly Dictionary<long, DateOnly> _days = [];

    /// <summary>The labour rate now.</summary>
    public static Task<long> LabourPerHourAsync(ShopDb db, CancellationToken cancel) => db.Settings.AsNoTracking().Select(s => s.LabourPerHourMinor).FirstOrDefaultAsync(cancel);

    /// <summary>The cases that a statement asks for, in its order.</summary>
    public async Task<List<RepairCase>> ReadAsync(string statement, Guid? key, CancellationToken cancel)
    {
        await db.Database.OpenConnectionAsync(cancel).ConfigureAwait(false);
        var command = db.Database.GetDbConnection().CreateCommand();
        await using (command.ConfigureAwait(false))
        {
            command.CommandText = statement;
            var parameter = command.CreateParameter();
            (parameter.ParameterName, parameter.Value) = ("@key", key ?? (object)DBNull.Value);
            command.Parameters.Add(parameter);
            var rows = await command.ExecuteReaderAsync(cancel).ConfigureAwait(false);
            await using (rows.ConfigureAwait(false))
            {
                return Cases(rows, cancel);
            }
        }
    }

    // SQLite answers on the spot; asking row by row whether it is there yet would only cost time.
    private List<RepairCase> Cases(DbDataReader rows, CancellationToken cancel)
    {
        var cases = new List<RepairCase>();
        while (rows.Read())
        {
            if (rows.GetString(1) is { Length: > 0 } line)
            {
                cases.Add(Case(rows.GetInt32(0), _lines.Read(line)));
            }

            if ((cases.Count & 0xFFF) == 0)
            {
                cancel.ThrowIfCancellationRequested();
            }
        }

        return cases;
    }

    private RepairCase Case(int number, in KeptCase kept) => new()
    {
        Number = number,
        OrderId = kept.OrderId,
        VehicleId = kept.VehicleId,
        CameInOn = Day(kept.CameIn),
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
    };

    /// <summary>The diagnosis in minutes of the labour rate, once the car is handed over: time spent is kept of the diagnosis only.</summary>
    private int? Billed(in KeptCase kept) => kept is { HandedOver: not null, DiagnosisPriceMinor: { } minor } && labourPerHour > 0
        ? (int)Math.Min(int.MaxValue, Math.Round(60m * minor / labourPerHour, MidpointRounding.AwayFromZero))
        : null;

    private DateOnly Day(long seconds)
    {
        var quarter = Math.DivRem(seconds, Quarter).Quotient;
        return _days.TryGetValue(quarter, out var day) ? day : _days[quarter] = CaseRows.Day(DateTime.UnixEpoch.AddSeconds(quarter * Quarter), zone);
    }
}
