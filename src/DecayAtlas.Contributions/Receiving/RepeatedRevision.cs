namespace DecayAtlas.Contributions.Receiving;

/// <summary>What is told of a revision that came before with other content: where its number stands in what was sent, and how it is
/// counted up there.</summary>
internal static class RepeatedRevision
{
    private const string Again = "then send all of it again; or drop it on the check page, tick \"This mends what I sent before\" there, "
        + "and send what it saves";

    /// <param name="next">One above the highest that was accepted.</param>
    public static Finding Of(PackageReading reading, string contributionId, int revision, int next)
    {
        Finding found = new(FindingCode.RevisionRepeated, SchemaCatalogue.DescriptorName, null, "/revision",
            Invariant($"revision {revision} of {contributionId}, which was accepted before with other content"),
            "a higher revision, as a correction needs one", Invariant($"set revision to {next}, {Again}"));
        string table = reading.TableName ?? "";
        return reading.Format switch
        {
            ContributionFormat.WideTable => found with
            {
                File = reading.MappingName ?? table,
                Column = "package.revision",
                Mend = Invariant($"let decayatlas map-columns {table} --revision {next} set revision to {next} in its mapping, {Again}"),
            },
            ContributionFormat.Kit when reading.PlaceInKit(found with { Column = null }, "revision") is var placed => placed with
            {
                Mend = Invariant($"set the number of this version to {next} on the sheet \"{placed.Sheet}\" of the kit, ")
                    + "then send all of it again",
            },
            ContributionFormat.Workbook => found with
            {
                File = table,
                Sheet = WorkbookContribution.PackageSheet,
                Column = "revision",
                Mend = Invariant($"set revision to {next} on the sheet {WorkbookContribution.PackageSheet}, {Again}"),
            },
            _ => found,
        };
    }
}
