using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Statistics;
using ShopDiag.Diagnosis.Wire;

namespace ShopDiag.Comebacks.Wire;

/// <summary>The owner's figures as lines of JSON, a group a line: shares to six decimals, probabilities to six significant digits.</summary>
public static class OwnerFiguresJson
{
    /// <summary>
    /// The lines, in the order of the groups. <c>{"by":"diagnosis","group":"coil-failed","asOf":"2030-06-30","from":null,"to":null,"window":{"days":365,"km":20000},
    /// "repairs":..,"comebacks":..,"later":..,"undecided":..,"tooEarly":..,"rate":..,"low":..,"high":..,"shrunkenRate":..,"smallNumbers":..,
    /// "stillGood":{"days":[{"at":30,"share":..,"low":..,"high":..,"atRisk":..}],"km":[..],"kmEstimated":..},
    /// "againstOthers":{"test":"..","observed":..,"expected":..,"chiSquare":..,"p":..,"adjustedP":..,"comparisons":..,"differs":..},"firstTimeRight":{"right":..,"of":..,"share":..},
    /// "minutes":{"orders":..,"authorised":..,"billed":..,"spent":..},"comebackOrders":[{"repair":1042,"return":1077}],"undecidedOrders":[..],"orders":[..]}</c>.
    /// The group is empty where it is not said. <c>share</c>, <c>low</c> and <c>high</c> are null where no repair was watched that long, <c>againstOthers</c> where
    /// there was too little to compare.
    /// </summary>
    public static IEnumerable<string> Lines(OwnerFigures figures)
    {
        ArgumentNullException.ThrowIfNull(figures);
        return figures.Groups.Select(g => JsonLine.Of(json =>
        {
            WriteQuestion(json, figures, g);
            WriteCounts(json, g);
            WriteStillGood(json, g);
            WriteComparison(json, g.Comparison, figures.Comparisons);
            WriteWork(json, g);
            WriteOrders(json, g);
        }));
    }

    /// <summary>The word for a grouping, as the verb's <c>--by</c> takes it.</summary>
    public static string Word(Grouping grouping) => JsonNamingPolicy.KebabCaseLower.ConvertName(grouping.ToString());

    /// <summary>The grouping of a word; null for any other text.</summary>
    public static Grouping? Read(string word) =>
        Enum.GetValues<Grouping>().Where(g => Word(g) == word).Cast<Grouping?>().FirstOrDefault();

    private static void WriteQuestion(Utf8JsonWriter json, OwnerFigures figures, GroupFigures group)
    {
        var question = figures.Question;
        json.WriteString("by", Word(figures.By));
        json.WriteString("group", group.Key);
        json.WriteString("asOf", Day(question.AsOf));
        json.WriteString("from", Day(question.From));
        json.WriteString("to", Day(question.To));
        json.WriteStartObject("window");
        json.WriteNumber("days", question.Window.Days);
        Write(json, "km", question.Window.Kilometres);
        json.WriteEndObject();
    }

    private static void WriteCounts(Utf8JsonWriter json, GroupFigures group)
    {
        json.WriteNumber("repairs", group.Repairs);
        json.WriteNumber("comebacks", group.Comebacks);
        json.WriteNumber("later", group.CountOf(Standing.CameBackLater));
        json.WriteNumber("undecided", group.CountOf(Standing.Undecided));
        json.WriteNumber("tooEarly", group.CountOf(Standing.TooEarly));
        Write(json, "rate", group.Rate);
        Write(json, group.RateInterval);
        Write(json, "shrunkenRate", group.ShrunkenRate);
        json.WriteBoolean("smallNumbers", group.AreSmallNumbers);
    }

    private static void WriteStillGood(Utf8JsonWriter json, GroupFigures group)
    {
        json.WriteStartObject("stillGood");
        Write(json, "days", group.StillGoodDays);
        Write(json, "km", group.StillGoodKilometres);
        json.WriteNumber("kmEstimated", group.KilometresEstimated);
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, string name, ImmutableArray<StillGood> shares)
    {
        json.WriteStartArray(name);
        foreach (var one in shares)
        {
            json.WriteStartObject();
            json.WriteNumber("at", one.At);
            Write(json, "share", one.Share?.Survival);
            Write(json, one.Share?.Band);
            json.WriteNumber("atRisk", one.Share?.AtRisk ?? 0);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteComparison(Utf8JsonWriter json, GroupComparison? comparison, int comparisons)
    {
        if (comparison is not { } made)
        {
            json.WriteNull("againstOthers");
            return;
        }

        json.WriteStartObject("againstOthers");
        json.WriteString("test", LogRank.Form);
        json.WriteNumber("observed", made.Test.Observed);
        json.WriteNumber("expected", Significant(made.Test.Expected));
        json.WriteNumber("chiSquare", Significant(made.Test.ChiSquare));
        json.WriteNumber("p", Significant(made.Test.P));
        json.WriteNumber("adjustedP", Significant(made.AdjustedP));
        json.WriteNumber("comparisons", comparisons);
        json.WriteBoolean("differs", made.Differs);
        json.WriteEndObject();
    }

    private static void WriteWork(Utf8JsonWriter json, GroupFigures group)
    {
        json.WriteStartObject("firstTimeRight");
        json.WriteNumber("right", group.FirstTimeRight.Right);
        json.WriteNumber("of", group.FirstTimeRight.Of);
        Write(json, "share", group.FirstTimeRight.Share);
        json.WriteEndObject();
        json.WriteStartObject("minutes");
        json.WriteNumber("orders", group.Labour.Orders);
        json.WriteNumber("authorised", group.Labour.Authorised);
        json.WriteNumber("billed", group.Labour.Billed);
        json.WriteNumber("spent", group.Labour.Spent);
        json.WriteEndObject();
    }

    private static void WriteOrders(Utf8JsonWriter json, GroupFigures group)
    {
        json.WriteStartArray("comebackOrders");
        foreach (var repair in group.Followed.Where(f => f.Standing == Standing.CameBack))
        {
            json.WriteStartObject();
            json.WriteNumber("repair", repair.Case.Number);
            json.WriteNumber("return", repair.Return!.Number);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        Write(json, "undecidedOrders", group.Followed.Where(f => f.Standing == Standing.Undecided));
        Write(json, "orders", group.Followed);
    }

    private static void Write(Utf8JsonWriter json, string name, IEnumerable<FollowedRepair> repairs)
    {
        json.WriteStartArray(name);
        foreach (var repair in repairs)
        {
            json.WriteNumberValue(repair.Case.Number);
        }

        json.WriteEndArray();
    }

    private static void Write(Utf8JsonWriter json, Interval? interval)
    {
        Write(json, "low", interval?.Low);
        Write(json, "high", interval?.High);
    }

    private static void Write(Utf8JsonWriter json, string name, double? share)
    {
        if (share is { } value)
        {
            json.WriteNumber(name, Math.Round(value, 6, MidpointRounding.AwayFromZero));
        }
        else
        {
            json.WriteNull(name);
        }
    }

    private static string? Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    // A probability of 1e-12 must not become 0.
    private static double Significant(double value) => double.Parse(value.ToString("G6", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
