namespace DecayAtlas.Pipeline.Stages;

/// <summary>The next release would lack what the current one holds. The message is for the curator; nothing was published.</summary>
public sealed class LostContributionsException : Exception
{
    private const int Named = 10;

    private LostContributionsException(string message, IReadOnlyList<LostContribution> lost) : base(message) => Lost = lost;

    /// <summary>All of them; the message names the first few.</summary>
    public IReadOnlyList<LostContribution> Lost { get; }

    internal static LostContributionsException OfIntake(IReadOnlyList<LostContribution> lost) => new(
        $"The intake lacks {lost.Count} of the contributions that were accepted: {Names(lost, l => l.ToString())}. Nothing was published. "
        + "Mount the intake or restore it from a backup, and run again; what is really gone is withdrawn by a decision, "
        + "which stays as long as intake/register.txt has its line "
        + "(of one that a higher revision replaced, take the line out of that file).",
        lost);

    internal static LostContributionsException OfRelease(IReadOnlyList<LostContribution> lost, Func<LostContribution, string?> why) => new(
        $"The next release would lack {lost.Count} of the contributions that the current one holds: "
        + $"{Names(lost, l => Reasoned(l, why(l)))}. Nothing was published. Mend that and run again, or withdraw them by a decision.",
        lost);

    private static string Reasoned(LostContribution lost, string? why) =>
        why is null ? lost.ToString() : Invariant($"revision {lost.Revision} of {lost.ContributionId}, since {why}");

    private static string Names(IReadOnlyList<LostContribution> lost, Func<LostContribution, string> name) =>
        string.Join("; ", lost.Take(Named).Select(name))
        + (lost.Count > Named ? $"; and {lost.Count - Named} more, which the run record names" : "");
}
