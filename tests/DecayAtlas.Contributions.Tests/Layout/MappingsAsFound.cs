using System.Text;

namespace DecayAtlas.Contributions.Tests.Layout;

/// <summary>A table with a title, a repeated header and a total is read by a mapping as the tidy one is, and a finding names the true
/// row.</summary>
public class MappingsAsFound
{
    private static readonly string Torture = Path.Combine(AppContext.BaseDirectory, "torture", "wide");
    private static readonly string[] Lines = File.ReadAllText(Path.Combine(Torture, "plain.csv")).TrimEnd().Split('\n');

    [Fact]
    public void The_same_bags_come_out_as_from_the_tidy_table()
    {
        ReadResult tidy = ContributionReader.Read(Path.Combine(Torture, "plain.csv"), IntakeLimits.Default);
        ReadResult laidOut = Read(["Our bags", "", .. Lines, Lines[0]]);
        Assert.Empty(laidOut.Findings);
        Assert.Equal(tidy.Contribution!.Bags.Select(bag => bag with { Row = bag.Row + 2 }), laidOut.Contribution!.Bags);
        Assert.Equal(tidy.Contribution.Sites.Select(site => site with { Row = site.Row + 2 }), laidOut.Contribution.Sites);
    }

    [Fact]
    public void A_finding_names_the_row_of_the_file()
    {
        Finding finding = Read(["Our bags", "", .. Lines.Take(2), Lines[2].Replace("fast", "quick", StringComparison.Ordinal)
            .Replace("slow", "quick", StringComparison.Ordinal)]).Findings[0];
        Assert.Equal(("a.csv", 5), (finding.File, finding.Row));
    }

    [Fact]
    public void Answers_without_a_layout_are_refused()
    {
        ReadResult result = Read(Lines, "file:\n  layout_answers: { layout.hidden-rows: leave }\n");
        Assert.Equal(FindingCode.MappingBroken, Assert.Single(result.Findings).Code);
    }

    private static ReadResult Read(string[] lines,
        string file = "file:\n  layout: as-found\n  layout_answers: { layout.hidden-rows: leave }\n")
    {
        string folder = Directory.CreateTempSubdirectory("contributions-layout-").FullName;
        try
        {
            string path = Path.Combine(folder, "a.csv");
            File.WriteAllText(path, string.Join('\n', lines), Encoding.UTF8);
            string mapping = File.ReadAllText(Path.Combine(Torture, "plain.mapping.yaml"));
            File.WriteAllText(SpreadsheetFiles.MappingPathOf(path), file + mapping);
            return ContributionReader.Read(path, IntakeLimits.Default);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
