namespace DecayAtlas.Contributions.Findings;

/// <summary>
/// The time that reading one contribution may still take. Nothing is broken off from outside: whatever goes through rows or pieces of a
/// file asks on the way, so that reading ends in good order wherever it is.
/// </summary>
internal sealed class ReadingTime(int mostSeconds, TimeProvider clock)
{
    private long _began = clock.GetTimestamp();

    /// <summary>For what is read without a limit.</summary>
    public static ReadingTime Unlimited { get; } = new(int.MaxValue, TimeProvider.System);

    public bool IsOver => clock.GetElapsedTime(_began).TotalSeconds > mostSeconds;

    /// <summary>Begins anew: what lay between two passes over a contribution was no reading.</summary>
    public void Restart() => _began = clock.GetTimestamp();

    /// <exception cref="ReadingTimeOverException">The time is over.</exception>
    public void Ask()
    {
        if (IsOver)
            throw new ReadingTimeOverException();
    }

    /// <summary>
    /// All that is told of a contribution that takes too long: how far reading came depends on the machine, and what is told of the same
    /// content must not.
    /// </summary>
    public Finding Over(string name) => new(FindingCode.TooCostly, name,
        Invariant($"a contribution that takes longer than {mostSeconds} s to read"), Invariant($"one that is read within {mostSeconds} s"),
        "split it into several contributions, or ask the curator to raise limits.seconds");
}

/// <summary>Reading a contribution took longer than it may; never leaves <see cref="PackageReading"/>.</summary>
internal sealed class ReadingTimeOverException : Exception;
