using System.Collections.Immutable;
using System.Globalization;
using Microsoft.Data.Sqlite;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Benchmarks.Large;

/// <summary>
/// Writes the rows of an invented shop of any size over twenty years: most orders with a finding, a part and readings; one in sixteen is back within the year with the same trouble, one in eight with another or
/// with nobody having said what it is; the last hundred and fifty cars are in the building. Straight into the tables, as the program would have left them before it kept summaries.
/// </summary>
internal sealed class MadeShop(SqliteConnection db, int orders)
{
    private const int OrdersACar = 3;
    private const int Open = 150;

    private static readonly string[] First = ["Ada", "Björn", "Carla", "Desmond", "Edith", "Farid", "Greta", "Hugo", "Inés", "Jonas", "Kofi", "Lena", "Márta", "Nils", "Olga", "Piet", "Ruth", "Sven", "Tomás", "Uma"];
    private static readonly string[] Last = ["Abel", "Brandt", "Cordero", "Dahl", "Ekström", "Fitch", "Garner", "Hollis", "Ibsen", "Jansen", "Kowal", "Lindqvist", "Márquez", "Novak", "Ostrow", "Pike", "Quist", "Rasmus", "Strauß", "Tully"];
    private static readonly ImmutableArray<Cause> Causes = [.. Knowledge.Shipped.Causes.Where(c => c is { Unlisted: false, Alone: false }).Select(c => new Cause(c))];
    private static readonly DateTime End = new(2026, 3, 2, 12, 0, 0, DateTimeKind.Utc);

    private readonly Random _random = new(7);
    private readonly int[] _carOf = new int[orders];
    private readonly Dictionary<string, SqliteCommand> _inserts = [];

    /// <summary>Plates begin with it and a number, so that every size of shop has the same ones.</summary>
    public static string Plate(int car) => string.Create(CultureInfo.InvariantCulture, $"{(char)('A' + (car % 26))}{(char)('A' + (car / 26 % 26))}{(char)('K' + (car % 7))} {1000 + (car % 9000)}");

    public static string Vin(int car) => string.Create(CultureInfo.InvariantCulture, $"1ZZ{(char)('A' + (car % 8))}B2{(char)('C' + (car % 5))}8X{car % 10}A{100000 + (car % 900000)}");

    /// <summary>Writes them all in one transaction.</summary>
    public void Write()
    {
        using var transaction = db.BeginTransaction();
        var engines = Knowledge.Shipped.Profiles.Select(p => (Json: StorageJson.Write(p.Spec), p.Title, Engine: Engine.Create(p.Spec).Value)).ToArray();
        Engine[] known = [.. engines.Select(e => e.Engine)];
        var cars = Math.Max(1, orders / OrdersACar);
        for (var car = 0; car < cars; car++)
        {
            Insert("Customers", ("Id", Key(1, car)), ("Name", $"{First[car % 20]} {Last[car / 20 % 20]}{(car % 50 == 0 ? " & Sons" : "")}"), ("Phone", ""), ("Email", ""));
            Insert("Vehicles", ("Id", Key(2, car)), ("CustomerId", Key(1, car)), ("Plate", Plate(car)), ("PlateKey", SearchText.Key(Plate(car))), ("Vin", Vin(car)), ("VinKey", SearchText.Key(Vin(car))), ("Description", "Osprel Van 3.6"), ("Year", 2000 + (car % 25)), ("EngineJson", engines[car % engines.Length].Json), ("EngineTitle", engines[car % engines.Length].Title));
        }

        for (var i = 0; i < orders; i++)
        {
            Order(i, cars, known);
        }

        transaction.Commit();
    }

    private void Order(int i, int cars, Engine[] engines)
    {
        var kind = i < 1000 ? Visit.First : (i % 16) switch { 9 => Visit.Comeback, 3 or 12 => Visit.Undecided, _ => Visit.First };
        var earlier = kind == Visit.First ? -1 : i - _random.Next(30, 1000);
        var car = _carOf[i] = kind == Visit.First ? i % cars : _carOf[earlier];
        var (came, open, engine) = (End.AddMinutes(-(orders - i) * (20.0 * 365 * 1440 / orders)), i >= orders - Open, engines[car % engines.Length]);
        var cause = Causes[Math.Min(_random.Next(Causes.Length), _random.Next(Causes.Length))];
        var at = cause.At(engine, _random);
        var found = i % 20 != 3;
        var code = at.Kind == PlaceKind.Cylinder ? $"P030{at.First}" : "P0300";
        var stage = open ? OrderStages.Open[i % OrderStages.Open.Length] : OrderStage.HandedOver;
        Insert(
            "Orders", ("Id", Key(3, i)), ("AuthorisedMinutes", 60), ("ComebackAnswer", kind == Visit.Comeback ? "Yes" : i % 16 == 3 ? "OtherTrouble" : "Undecided"), ("ComebackAnsweredAt", kind == Visit.Comeback || i % 16 == 3 ? Time(came) : null),
            ("ComebackAnsweredBy", "Ruth"), ("ComebackOf", kind == Visit.Comeback ? Key(3, earlier) : null), ("ConcernCodes", code), ("ConcernLamp", "Steady"), ("ConcernText", "Shakes at idle and smells of fuel since last week."), ("ConcernWhen", "idle"),
            ("CreatedAt", Time(came)), ("CustomerId", Key(1, car)), ("DiagnosisPriceMinor", 14500L), ("MinutesSpent", _random.Next(20, 200)), ("Number", 1001 + i), ("Odometer", 20_000 + (int)(10_000 * 20.0 * i / orders) + (car % 500)), ("OdometerUnit", "mi"),
            ("PromisedAt", open ? Time(came.AddDays(1)) : null), ("Stage", stage.ToString()), ("Technician", First[_random.Next(8)]), ("VehicleId", Key(2, car)), ("WrittenCause", ""), ("WrittenConcern", ""), ("WrittenCorrection", ""));
        Moves(i, came, open ? [OrderStage.WrittenUp] : [OrderStage.WrittenUp, OrderStage.InDiagnosis, OrderStage.InRepair, OrderStage.HandedOver]);
        Reading(i, 1, "trouble-codes", Place.Engine, $$"""{"codes":"{{code}}"}""", "Before");
        foreach (var cylinder in engine.Cylinders.Take(4))
        {
            Reading(i, 1 + cylinder, "power-balance", Place.Cylinder(cylinder), $$"""{"rpmDrop":{{_random.Next(20, 90)}}}""", "Before");
        }

        if (found)
        {
            Finding(i, came, cause, at);
            Part(i, cause);
        }

        if (i % 6 > 0)
        {
            Reading(i, 20, "power-balance", Place.Cylinder(1), """{"rpmDrop":70}""", "After");
        }
    }

    private void Finding(int i, DateTime came, Cause cause, Place at)
    {
        var finding = new OrderFinding { Conclusion = cause.Concluded(at), Probability = 0.95, UnprovenReason = i % 8 == 0 ? "The customer asked for it." : null, At = came, By = "Lena" };
        Insert("Findings", ("OrderId", Key(3, i)), ("Sequence", 1), ("FindingJson", StorageJson.Write(finding)), ("Causes", cause.Id), ("SavedAt", Time(came)));
    }

    private void Part(int i, Cause cause) => Insert(
        "Parts", ("Id", Key(4, i)), ("OrderId", Key(3, i)), ("LineId", Key(5, i)), ("Sequence", 1), ("Text", cause.Part), ("Position", ""), ("MustMatch", ""), ("Together", 0), ("Quantity", 1), ("State", "Fitted"),
        ("Vendor", $"Vendor {_random.Next(12)}"), ("Maker", $"Maker {_random.Next(30)}"), ("PartNumber", ""), ("CoreMinor", 0), ("CoreBack", 0), ("Unproven", i % 8 == 0 ? 1 : 0), ("MovesJson", "[]"));

    private void Moves(int i, DateTime came, OrderStage[] stages)
    {
        for (var s = 0; s < stages.Length; s++)
        {
            Insert("StageMoves", ("OrderId", Key(3, i)), ("Sequence", s + 1), ("Stage", stages[s].ToString()), ("At", Time(came.AddHours(s * 5))), ("By", "Ruth"), ("Reason", ""));
        }
    }

    private void Reading(int i, int sequence, string test, Place at, string value, string stage) => Insert(
        "Readings", ("Id", Key(100 + sequence, i)), ("OrderId", Key(3, i)), ("Sequence", sequence), ("Test", test), ("PlaceKind", at.Kind.ToString()), ("PlaceFirst", at.First), ("PlaceSecond", at.Second), ("ValueJson", value),
        ("Stage", stage), ("Withdrawn", 0), ("SavedAt", Time(End)));

    private void Insert(string table, params ReadOnlySpan<(string Column, object? Value)> row)
    {
        if (!_inserts.TryGetValue(table, out var insert))
        {
            _inserts[table] = insert = db.CreateCommand();
            var columns = row.ToArray().Select(r => r.Column).ToArray();
            insert.CommandText = $"INSERT INTO {table} (\"{string.Join("\", \"", columns)}\") VALUES ({string.Join(", ", columns.Select(c => "@" + c))})";
            foreach (var column in columns)
            {
                insert.Parameters.Add(new() { ParameterName = "@" + column });
            }
        }

        for (var i = 0; i < row.Length; i++)
        {
            insert.Parameters[i].Value = row[i].Value ?? DBNull.Value;
        }

        insert.ExecuteNonQuery();
    }

    private static string Key(int kind, int number) => string.Create(CultureInfo.InvariantCulture, $"00000000-0000-4000-{8000 + kind:D4}-{number:D12}");

    private static string Time(DateTime utc) => utc.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);

    private enum Visit
    {
        First,
        Comeback,
        Undecided,
    }

    /// <summary>A cause with what an order says when it was found.</summary>
    private sealed record Cause(Diagnosis.Causes.Cause Known)
    {
        public string Id => Known.Id;

        public string Part => Known.Repair.Parts is [var first, ..] ? first.Part : "Wire";

        public Place At(Engine engine, Random random) => Known.PlacesOn(engine).ToArray() is { Length: > 0 } places ? places[random.Next(places.Length)] : Place.Engine;

        public Conclusion Concluded(Place at) => new([new(Id, at)], [new("power-balance", at, "dead", "It drops least.")], new($"Replace: {Part}.", [new(Part, 1, at, "", false)], 30, ["power-balance"]));
    }
}
