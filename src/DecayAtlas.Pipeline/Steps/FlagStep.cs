namespace DecayAtlas.Pipeline.Steps;

/// <summary>Everything known of the records -> flags, and the use that they leave each record.</summary>
public static class FlagStep
{
    /// <summary>The flags in key order, and the verdicts they lead to.</summary>
    public sealed record Output(IReadOnlyList<Flag> Flags, Verdicts Verdicts);

    public static Output Run(FlagInputs inputs, DecisionList decisions)
    {
        Flag[] raised = [.. inputs.Flags.SelectMany(f => f.Raise(inputs).Concat(f.RaiseOnResults(inputs)))];
        HashSet<RecordKey> aside = [.. raised.Where(f => f.Severity != Severity.Note && decisions.Overruling(f) is null)
            .Select(f => f.Record)];
        Flag[] flags =
        [
            .. raised.Concat(inputs.Flags.SelectMany(f => f.RaiseAmong(inputs, aside)))
                .OrderBy(f => f.Record).ThenBy(f => f.Code, StringComparer.Ordinal).ThenBy(f => f.Explanation, StringComparer.Ordinal),
        ];
        return new Output([.. flags.Select(f => f with { Overruling = decisions.Overruling(f) })],
            new Verdicts(flags.Where(f => decisions.Overruling(f) is null), inputs.Sites));
    }
}
