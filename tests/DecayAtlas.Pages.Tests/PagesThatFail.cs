namespace DecayAtlas.Pages.Tests;

/// <summary>A page that the program makes a mistake over is replaced by a short one that says so; all others are made.</summary>
public class PagesThatFail
{
    [Fact]
    public void It_says_so_in_its_language_without_details_and_the_others_are_made()
    {
        ReleaseData data = Examples.WarmerIsFaster(6);
        // a card without candidates can't be read from a folder: the page of this one falls over it
        string folder = Directory.CreateTempSubdirectory("decayatlas-pages-").FullName;
        PagesInputs broken = Examples.Inputs(data) with
        {
            StabilisationModel = new ModelFolder(folder, null, null, null, null!, [], [], [], []),
        };
        List<FailedPage> failed = [];
        SiteFile[] files = [.. SiteMaker.Make(broken, Examples.Options(data), null, failed.Add)];

        Assert.Contains(failed, f => f.Path == ModelKind.Stabilisation.Path);
        Assert.Contains(failed, f => f.Path == "de/" + ModelKind.Stabilisation.Path);
        Assert.All(failed, f => Assert.Equal("ArgumentNullException", f.Mistake.Kind));
        string english = files.Single(f => f.Path == ModelKind.Stabilisation.Path).Text,
            german = files.Single(f => f.Path == "de/" + ModelKind.Stabilisation.Path).Text;
        Assert.Contains("This page could not be made", english, StringComparison.Ordinal);
        Assert.Contains("Diese Seite konnte nicht erzeugt werden", german, StringComparison.Ordinal);
        Assert.All(new[] { english, german }, page => Assert.DoesNotContain("Exception", page, StringComparison.Ordinal));

        SiteFile[] sound = [.. SiteMaker.Make(Examples.Inputs(data), Examples.Options(data))];
        HashSet<string> touched = [.. failed.Select(f => f.Path)];
        Assert.All(sound.Where(
            f => f.Path.StartsWith("contributions/c-", StringComparison.Ordinal) || f.Path is "index.html" or "map.html" or "data.html"),
            f =>
        {
            Assert.DoesNotContain(f.Path, touched);
            Assert.Contains(files, other => other.Path == f.Path);
        });
    }
}
