using System.Text;
using DecayAtlas.Pages.Reading;
using DecayAtlas.Pages.Texts;

namespace DecayAtlas.Pages.Site;

/// <summary>One file of the site: its path from the folder of the pages, with forward slashes, and its text.</summary>
public sealed record SiteFile(string Path, string Text);

/// <summary>
/// Makes the site: every page in every language, the data they draw, and what they look like. Pure: the same inputs give the same
/// files, in the same order, and nothing is written, so that a server can hand them out as well as a folder can hold them.
/// </summary>
public static class SiteMaker
{
    /// <summary>The pages and their data, one after the other.</summary>
    /// <param name="progress">Called with what is made, how many are done, and how many there are.</param>
    public static IEnumerable<SiteFile> Make(PagesInputs inputs, PagesOptions options, Action<string, int, int>? progress = null)
    {
        Language[] languages = [.. options.Languages.Select(code => Language.Find(code) ?? throw new PagesException($"There is no language {code}; there are {string.Join(", ", Language.Known)}."))];
        ReleaseData data = inputs.Data;
        var climate = new SimilarClimate(data, options.Climate);
        WarmthLesson lesson = WarmthLesson.Of(data, options.Climate);
        ILookup<string, BurialFacts> burials = data.Burials.ToLookup(b => b.ContributionId, StringComparer.Ordinal);
        ILookup<string, FlagFacts> flags = data.Flags.ToLookup(f => f.ContributionId, StringComparer.Ordinal);
        GroupResult[] results = [.. data.Contributions.Select(c => GroupResult.Of(c, data, climate, burials, flags))];

        int done = 0, all = languages.Length * (results.Length + 1);
        foreach (Language words in languages)
        {
            Page At(string path) => new(path, words, languages, options.Title, data.ReleaseId);
            SiteFile Write(string path, Func<Page, string> write)
            {
                Page page = At(path);
                return new SiteFile(page.File, write(page));
            }

            yield return Write(OverviewPage.Path, p => OverviewPage.Write(p, inputs));
            yield return Write(MapPage.Path, p => MapPage.Write(p, inputs));
            yield return Write(QualityPage.Path, p => QualityPage.Write(p, inputs));
            yield return Write(ModelPage.Path, p => ModelPage.Write(p, inputs));
            yield return Write(DataPage.Path, p => DataPage.Write(p, inputs));
            yield return Write(ContributionsPage.Path, p => ContributionsPage.Write(p, inputs, results));
            yield return Write(ClassSheet.GeneralFile, p => ClassSheet.Write(p, lesson, null));
            progress?.Invoke(words.Name, ++done, all);
            foreach (GroupResult result in results)
            {
                yield return Write(ContributionPage.FileOf(result.Contribution.Id), p => ContributionPage.Write(p, inputs, result));
                yield return Write(ClassSheet.FileOf(result.Contribution.Id), p => ClassSheet.Write(p, lesson, result));
                progress?.Invoke(words.Name, ++done, all);
            }

            foreach (SetAsideFacts aside in inputs.SetAside)
                yield return Write(WaitingPage.FileOf(aside), p => WaitingPage.Write(p, inputs, aside));
            yield return new SiteFile($"data/words-{words.Code}.js", WordScript.Of(words, inputs));
        }

        foreach ((string file, string text) in SiteScripts.All(data).Concat(MapScripts.All(inputs)))
            yield return new SiteFile(file, text);
        yield return new SiteFile(QualityPage.FlagsFile, QualityPage.Script(inputs));
        foreach (SiteFile asset in Assets())
            yield return asset;
    }

    /// <summary>What the pages look like and do, and what they took from others with its licences.</summary>
    private static IEnumerable<SiteFile> Assets()
    {
        foreach (string name in typeof(SiteMaker).Assembly.GetManifestResourceNames().Where(n => n.StartsWith("assets/", StringComparison.Ordinal)).Order(StringComparer.Ordinal))
        {
            using var reader = new StreamReader(typeof(SiteMaker).Assembly.GetManifestResourceStream(name)!, Encoding.UTF8);
            yield return new SiteFile(name, reader.ReadToEnd().ReplaceLineEndings("\n"));
        }
    }
}
