using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Parsing;
using ShopDiag.Diagnosis;

namespace ShopDiag.Web.Api;

/// <summary>The query of a request read as the options of a verb: <c>?cylinders=4&amp;order=1,3,4,2</c> is <c>--cylinders 4 --order 1,3,4,2</c>, with the same checks.</summary>
internal static class VerbQuery
{
    // A text that begins with @ would be taken for the name of a file with further arguments.
    private static readonly ParserConfiguration Plainly = new() { ResponseFileTokenReplacer = null };

    /// <summary>The options, or what is wrong with them.</summary>
    /// <param name="command">The verb, with nothing but what may be asked from afar.</param>
    /// <param name="arguments">Its arguments, which are not in the query.</param>
    /// <param name="query">The query.</param>
    public static Parsed<CommandResult> Read(Command command, ImmutableArray<string> arguments, IQueryCollection query)
    {
        ArgumentNullException.ThrowIfNull(command);
        var tokens = arguments.ToBuilder();
        foreach (var (key, values) in query)
        {
            if (command.Options.All(o => NameOf(o) != key))
            {
                return new InputError(key, command.Options.Count == 0 ? "Nothing can be chosen here: leave the query out." : $"There is no such choice here. There are: {string.Join(", ", command.Options.Select(NameOf))}.");
            }

            if (values is not [{ Length: > 0 } value])
            {
                return new InputError(key, "This needs one value: say it once, or leave it out.");
            }

            // As one token: a value that looks like an option stays a value.
            tokens.Add($"--{key}={value}");
        }

        // Before the checks, which would look at a number that nobody gave.
        if (command.Options.FirstOrDefault(o => o.Required && !query.ContainsKey(NameOf(o))) is { } missing)
        {
            return new InputError(NameOf(missing), $"This has to be said: {missing.Description}");
        }

        var parsed = command.Parse(tokens.ToImmutable(), Plainly);
        return parsed.Errors is [var first, ..] ? Wrong(first) : parsed.CommandResult;
    }

    /// <summary>What an option is called in a query.</summary>
    public static string NameOf(Option option) => option.Name.TrimStart('-');

    // A check of several options together says in front which it means: "--idle: ...".
    private static InputError Wrong(ParseError error)
    {
        var words = string.Join(' ', error.Message.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        if (error.SymbolResult is OptionResult { Option: var option } of)
        {
            return new(NameOf(option), of switch
            {
                { Tokens: [var typed, ..] } when Number(option.ValueType) is { } number => $"This is a {number}, not '{typed.Value}'.",
                _ => words.StartsWith(option.Name + ": ", StringComparison.Ordinal) ? words[(option.Name.Length + 2)..] : words,
            });
        }

        return words.StartsWith("--", StringComparison.Ordinal) && words.IndexOf(": ", StringComparison.Ordinal) is var at and > 0
            ? new(words[2..at], words[(at + 2)..])
            : new("", words);
    }

    private static string? Number(Type type) => (Nullable.GetUnderlyingType(type) ?? type) switch
    {
        var t when t == typeof(int) => "whole number",
        var t when t == typeof(double) => "number with a point, such as 12.5",
        var t when t == typeof(bool) => "yes or no, true or false",
        _ => null,
    };
}
