namespace DecayAtlas.Atlas.Records;

/// <summary>What a treatment means for the use of a summary.</summary>
public static class Treatment
{
    /// <summary>
    /// Whether a plot was left as it is. A warmed or drained plot is an experiment: it says how decay responds, not what the rate of the
    /// place is, so that models and comparisons of places leave it out.
    /// </summary>
    public static bool IsUntreated(string? treatment) =>
        treatment is null || Vocabulary.Treatment.Find(treatment)?.Word == "control";
}
