using System.Globalization;

namespace DecayAtlas.Contributions.Tests;

/// <summary>The table in torture/README.md, row by row.</summary>
public class TortureTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "torture");

    public static TheoryData<string, string, string> Rows
    {
        get
        {
            TheoryData<string, string, string> rows = [];
            foreach (string line in File.ReadLines(Path.Combine(Folder, "README.md"))
                .Where(line => line.StartsWith("| ", StringComparison.Ordinal)).Skip(2))
            {
                string[] cells = [.. line.Trim('|').Split(" | ").Select(cell => cell.Trim(' ', '|'))];
                rows.Add(cells[0], cells[1], cells[2]);
            }
            return rows;
        }
    }

    [Fact]
    public void There_are_at_least_sixty_and_no_file_without_a_row()
    {
        string[] named = [.. Rows.Select(row => row.Data.Item1)];
        Assert.True(named.Length >= 60);
        Assert.Equal(named.Length, named.Distinct().Count());
        Assert.All(
            Directory.EnumerateDirectories(Path.Combine(Folder, "package")),
                path => Assert.Contains("package/" + Path.GetFileName(path), named));
        Assert.All(Directory.EnumerateFiles(Path.Combine(Folder, "wide"))
            .Where(path => !path.EndsWith(".yaml", StringComparison.Ordinal)),
                path => Assert.Contains("wide/" + Path.GetFileName(path), named));
        Assert.All(TortureMaker.Made.Keys, made => Assert.Contains("made/" + made, named));
    }

    [Theory]
    [MemberData(nameof(Rows))]
    public void Each_contribution_gets_the_findings_it_should(string contribution, string what, string expected)
    {
        using Example example = new();
        IntakeLimits limits = IntakeLimits.Default with { MaxSpreadsheetBytes = 4 << 20 };
        string path = Prepare(contribution, example);

        ReadResult result = ContributionReader.Read(path, limits);

        string found = result.Contribution is null ? string.Join("; ", result.Findings.Select(Place)) : "ok";
        if (expected.EndsWith("...", StringComparison.Ordinal))
            found = found[..Math.Min(found.Length, expected.Length - 3)] + "...";
        Assert.True(
            expected == found, $"{contribution} ({what}): expected {expected}, found {found}\n{string.Join('\n', result.Findings)}");
        Assert.DoesNotContain("Exception", string.Join('\n', result.Findings), StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Rows))]
    public void The_intake_keeps_each_unchanged_and_says_the_same(string contribution, string what, string expected)
    {
        using Example example = new();
        IntakeLimits limits = IntakeLimits.Default with { MaxSpreadsheetBytes = 4 << 20 };
        string path = Prepare(contribution, example);
        Dictionary<string, string> received = HashesOf(path);

        Intake intake = new(example.Atlas, limits);
        IntakeResult taken = intake.Take(path);

        Assert.True((expected == "ok") == (taken.Outcome == IntakeOutcome.Accepted), $"{contribution} ({what}): {taken.Outcome}");
        string kept =
            Path.Combine(example.Atlas, taken.Outcome == IntakeOutcome.Accepted ? "intake" : "quarantine", taken.ContentHash, "received");
        if (File.Exists(path) || expected == "ok")
            Assert.Equal(received, HashesOf(kept));
        intake.MarkTold([taken]);
        Assert.Equal(expected == "ok" ? IntakeOutcome.AlreadyKnown : IntakeOutcome.AlreadyQuarantined, intake.Take(path).Outcome);
        if (expected == "ok")
            Assert.Single(intake.Active());
    }

    private static Dictionary<string, string> HashesOf(string path)
    {
        string[] files = Directory.Exists(path) ? Directory.GetFiles(path, "*", SearchOption.AllDirectories)
            : File.Exists(SpreadsheetFiles.MappingPathOf(path)) ? [path, SpreadsheetFiles.MappingPathOf(path)] : [path];
        return files.ToDictionary(file => Path.GetFileName(file),
            file => Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(file))));
    }

    private static string Prepare(string contribution, Example example)
    {
        string[] parts = contribution.Split('/');
        string source = Path.Combine(Folder, contribution);
        switch (parts[0])
        {
            case "package":
                foreach (string file in Directory.GetFiles(source))
                    File.Copy(file, example.FileAt(Path.GetFileName(file)), overwrite: true);
                return example.Copy;
            case "made":
                string made = Path.Combine(example.Root, parts[1]);
                File.WriteAllBytes(made, TortureMaker.Made[parts[1]]());
                if (TortureMaker.Mappings.TryGetValue(parts[1], out string? mapping))
                    File.WriteAllText(SpreadsheetFiles.MappingPathOf(made), mapping);
                return made;
            default:
                string copy = Path.Combine(example.Root, parts[1]);
                File.Copy(source, copy);
                if (File.Exists(SpreadsheetFiles.MappingPathOf(source)))
                    File.Copy(SpreadsheetFiles.MappingPathOf(source), SpreadsheetFiles.MappingPathOf(copy));
                return copy;
        }
    }

    /// <summary>Code, file, sheet and cell or row, column.</summary>
    private static string Place(Finding finding) => string.Join(' ', new[]
    {
        finding.Code,
        finding.File,
        finding.Sheet is null ? null : "sheet " + finding.Sheet,
        finding.Cell is not null ? "cell " + finding.Cell
            : finding.Row is { } row ? "row " + row.ToString(CultureInfo.InvariantCulture) : null,
        finding.Column,
    }.Where(part => part is not null));
}
