namespace ShopDiag.Diagnosis;

/// <summary>What was wrong with something that came from outside: where it stood and what to do about it.</summary>
/// <param name="At">The path of the offending value, such as <c>readings[3].value.kPa</c>.</param>
/// <param name="Message">What is wrong and what is allowed, in plain words.</param>
public sealed record InputError(string At, string Message)
{
    /// <summary>The same error seen from one level further out.</summary>
    public InputError Under(string prefix) => this with
    {
        At = At.Length == 0 ? prefix : At.StartsWith('[') ? prefix + At : prefix + "." + At,
    };

    /// <inheritdoc/>
    public override string ToString() => At.Length == 0 ? Message : $"{At}: {Message}";
}

/// <summary>
/// The outcome of reading outside input: a value, or the error that says why there is none.
/// Bad input is a value here, never an exception; a broken promise inside the program throws.
/// </summary>
public sealed class Parsed<T>
{
    private readonly T? _value;

    private Parsed(T? value, InputError? error) => (_value, Error) = (value, error);

    /// <summary>The error, or null when there is a value.</summary>
    public InputError? Error { get; }

    /// <summary>True when there is a value.</summary>
    public bool IsValid => Error is null;

    /// <summary>The value. Throws <see cref="InvalidOperationException"/> when there is none.</summary>
    public T Value => Error is null ? _value! : throw new InvalidOperationException($"No value: {Error}");

    /// <summary>Wraps a value.</summary>
    public static implicit operator Parsed<T>(T value) => new(value, null);

    /// <summary>Wraps an error.</summary>
    public static implicit operator Parsed<T>(InputError error) => new(default, error);
}
