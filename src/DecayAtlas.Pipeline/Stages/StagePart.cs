namespace DecayAtlas.Pipeline.Stages;

/// <summary>The progress of one of several like parts of a stage, as a share of the whole stage: a bar that was full would not move again
/// for the second.</summary>
internal static class StagePart
{
    private const int Fine = 1000;

    /// <param name="part">From 0.</param>
    public static Action<string, int, int>? Of(Action<string, int, int>? progress, int part, int parts, string named = "") =>
        progress is null ? null : (what, done, of) =>
            progress(named + what, Fine * part + (int)(Fine * (long)Math.Min(done, of) / Math.Max(of, 1)), Fine * parts);
}
