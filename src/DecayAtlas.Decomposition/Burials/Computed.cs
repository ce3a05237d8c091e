namespace DecayAtlas.Decomposition.Burials;

/// <summary>A computed value, or the reason why there is none: the two can't be confused, and neither can be forgotten.</summary>
public readonly record struct Computed<T> where T : class
{
    private Computed(T? value, MissingReason? reason)
    {
        Value = value;
        Reason = reason;
    }

    /// <summary>The value; <see langword="null"/> where <see cref="Reason"/> says why.</summary>
    public T? Value { get; }

    /// <summary>Why there is no value; <see langword="null"/> where there is one.</summary>
    public MissingReason? Reason { get; }

#pragma warning disable CA2225 // the two conversions are the whole construction surface; named twins would add nothing
    public static implicit operator Computed<T>(T value) => new(value, null);

    public static implicit operator Computed<T>(MissingReason reason) => new(null, reason);
#pragma warning restore CA2225
}
