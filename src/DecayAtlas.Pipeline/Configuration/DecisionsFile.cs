namespace DecayAtlas.Pipeline.Configuration;

/// <summary>The decisions file (YAML, schemas/decisions-v1.schema.json).</summary>
public static class DecisionsFile
{
    /// <exception cref="ConfigurationException">The file is not usable; the message names file and line.</exception>
    public static DecisionList Of(PipelineConfiguration configuration) =>
        configuration.Decisions is { } file ? Read(file) : DecisionList.None;

    /// <exception cref="ConfigurationException">The file is not usable; the message names file and line.</exception>
    public static DecisionList Read(string path) => new([.. Section.Open(path, "decisions-v1.schema.json").Items("decisions").Select(Of)]);

    private static Decision Of(Section item)
    {
        (string by, DateOnly on, string because) = (item.Text("by")!, item.Date("on")!.Value, item.Text("because")!);
        if (item.Has("withdraw") == item.Has("overrule"))
            throw item.Wrong("by", "both or neither of withdraw and overrule", "one of them");
        if (item.Text("withdraw") is { } withdrawn)
            return new Decision(withdrawn, null, null, by, on, because);

        string code = item.Text("overrule")!;
        FlagDefinition? definition = FlagCatalogue.All.FirstOrDefault(d => d.Code == code);
        if (definition is not ({ Severity: Severity.Suspect } or { CastsDoubt: true }))
        {
            throw item.Wrong("overrule", code, "the code of a suspect flag, or of a note that casts doubt; a reject stands until the "
                + "contribution is corrected");
        }

        if (!item.Has("contribution") || !item.Has("record") || !item.Has("id"))
            throw item.Wrong("overrule", "no contribution, record or id", "all three, to name the record");
        (string contribution, string record, string id) = (item.Text("contribution")!, item.Text("record")!, item.Text("id")!);
        RecordKind kind = Enum.Parse<RecordKind>(record, ignoreCase: true);
        if (kind != definition.On && !(kind == RecordKind.Result && definition.StandsOnResults))
            throw item.Wrong("record", record, $"{definition.StandsOn}, since {code} stands on that");
        return new Decision(contribution, new RecordKey(contribution, kind, id), code, by, on, because)
        {
            Revision = item.WholeNumber("revision") ?? 1,
        };
    }
}
