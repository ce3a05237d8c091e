namespace DecayAtlas.Decomposition;

/// <summary>A statistical result, or the statement that says why the data give none. A number is never put in its place.</summary>
public readonly record struct Answer<T> where T : class
{
    /// <summary>The result; <see langword="null"/> where <see cref="Statement"/> says why.</summary>
    public T? Value { get; private init; }

    public Unanswered? Statement { get; private init; }

#pragma warning disable CA2225 // the two conversions are the whole construction surface; named twins would add nothing
    public static implicit operator Answer<T>(T value) => new() { Value = value };

    public static implicit operator Answer<T>(Unanswered statement) => new() { Statement = statement };
#pragma warning restore CA2225
}
