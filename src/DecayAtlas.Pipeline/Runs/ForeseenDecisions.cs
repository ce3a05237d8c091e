namespace DecayAtlas.Pipeline.Runs;

/// <summary>The decisions that would find nothing, as far as that can be told without computing anything.</summary>
internal static class ForeseenDecisions
{
    /// <param name="coming">What the inbox brings and no run has computed.</param>
    public static IReadOnlyList<string> Idle(
        PipelineConfiguration configuration, ComputeStage compute, IReadOnlyList<ContributionHeader> coming)
    {
        HashSet<string> arriving = [.. coming.Select(h => h.ContributionId)];
        return
        [
            .. compute.NotThere.Where(id => !arriving.Contains(id)).Select(ComputeStage.SentenceOfNotThere),
            .. Overrulings(configuration, compute, arriving),
        ];
    }

    // of a contribution that the current release holds as it counts now, its flags are known
    private static IEnumerable<string> Overrulings(PipelineConfiguration configuration, ComputeStage compute, HashSet<string> arriving)
    {
        AtlasFolder atlas = new(configuration.Atlas);
        Decision[] overrulings =
            [.. DecisionsFile.Of(configuration).All.Where(d => !d.IsWithdrawal && !arriving.Contains(d.ContributionId))];
        if (overrulings.Length == 0 || atlas.CurrentRelease() is null)
            return [];
        ReleaseReader release = new(atlas);
        Dictionary<string, int> released = release.Rows(AtlasTables.Contributions)
            .ToDictionary(c => c.ContributionId, c => c.Revision, StringComparer.Ordinal);
        HashSet<string> standing = [.. compute.Plan.Contributors.SelectMany(c => c.Group.Headers)
            .Where(h => released.GetValueOrDefault(h.ContributionId) == h.Revision).Select(h => h.ContributionId)];
        HashSet<string> named = [.. overrulings.Select(d => d.ContributionId)];
        HashSet<(string, string, string, string)> flags = [.. release.Rows(AtlasTables.Flags).Where(f => named.Contains(f.ContributionId))
            .Select(f => (f.ContributionId, f.RecordKind, f.RecordId, f.Code))];
        return overrulings.Where(d => standing.Contains(d.ContributionId) && (released[d.ContributionId] != d.Revision || !flags.Contains(
                (d.ContributionId, AtlasCode.Of(d.Overruled!.Value.Kind), d.Overruled.Value.RecordId, d.FlagCode!))))
            .Select(ContributorWork.Describe);
    }
}
