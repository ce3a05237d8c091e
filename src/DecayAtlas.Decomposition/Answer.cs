namespace DecayAtlas.Decomposition;

/// <summary>A statistical result, or the statement that says why the data give none. A number is never put in its place.</summary>
public readonly record struct Answer<T> where T : class
{
    private Answer(T? value, Unanswered? statement)
    {
        Value = value;
        Statement = statement;
    }

    /// <summary>An answer from a result, for types that take no implicit conversion (interfaces).</summary>
    internal static Answer<T> Of(T value) => new(value, null);

    /// <summary>The result; <see langword="null"/> where <see cref="Statement"/> says why.</summary>
    public T? Value { get; }

    /// <summary>Why there is no result; <see langword="null"/> where there is one.</summary>
    public Unanswered? Statement { get; }

#pragma warning disable CA2225 // the two conversions are the whole construction surface; named twins would add nothing
    public static implicit operator Answer<T>(T value) => new(value, null);

    public static implicit operator Answer<T>(Unanswered statement) => new(null, statement);
#pragma warning restore CA2225
}
