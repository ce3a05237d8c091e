namespace DecayAtlas.Decomposition.Burials;

/// <summary>A computed value, or the reason why there is none: the two can't be confused, and neither can be forgotten.</summary>
public readonly record struct Computed<T> where T : class
{
    /// <summary>The value; <see langword="null"/> where <see cref="Reason"/> says why.</summary>
    public T? Value { get; private init; }

    public MissingReason? Reason { get; private init; }

#pragma warning disable CA2225 // the two conversions are the whole construction surface; named twins would add nothing
    public static implicit operator Computed<T>(T value) => new() { Value = value };

    public static implicit operator Computed<T>(MissingReason reason) => new() { Reason = reason };
#pragma warning restore CA2225
}
