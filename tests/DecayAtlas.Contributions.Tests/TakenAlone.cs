namespace DecayAtlas.Contributions.Tests;

internal static class TakenAlone
{
    /// <summary>Takes one folder or file, with the mapping beside it, as all that lies in an inbox.</summary>
    public static IntakeResult Take(this Intake intake, string path)
    {
        string inbox = Directory.CreateTempSubdirectory("inbox-").FullName;
        string[] received = [.. new[] { path, SpreadsheetFiles.MappingPathOf(path) }.Where(Path.Exists)];
        foreach (string one in received)
            Directory.Move(one, Path.Combine(inbox, Path.GetFileName(one)));
        try
        {
            return Assert.Single(intake.TakeInbox(inbox, null));
        }
        finally
        {
            foreach (string one in received)
                Directory.Move(Path.Combine(inbox, Path.GetFileName(one)), one);
            Directory.Delete(inbox, recursive: true);
        }
    }

    public static IReadOnlyList<Contribution> Active(this Intake intake) => [.. intake.ActiveHeaders().Select(intake.Read)];
}
