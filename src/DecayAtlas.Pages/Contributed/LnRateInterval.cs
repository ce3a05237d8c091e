namespace DecayAtlas.Pages.Contributed;

/// <summary>The 95 % interval of ln k of one place, as the burials of one group tell it.</summary>
internal sealed record LnRateInterval(double Lower, double Upper)
{
    /// <summary>Student's t over the scatter of ln k between burials, which holds chance between holes and weighing alike; missing for one
    /// burial, of which nobody sees how much chance does. What all bags of a group share, its lots, moves all its places alike.</summary>
    public static LnRateInterval? Of(IEnumerable<ReleasedBurial> burials) =>
        SampleSummary.Of([.. burials.Where(b => b.CountsForPlace).Select(b => Math.Log(b.RatePerDay!.Value))])
            is { Lower95: { } low, Upper95: { } high } ? new LnRateInterval(low, high) : null;

    /// <summary>Whether all that this one allows is above all that another does.</summary>
    public bool IsAbove(LnRateInterval other) => Lower > other.Upper;
}
