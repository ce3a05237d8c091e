namespace DecayAtlas.Pages.Site;

/// <summary>One file of the site: its path from the folder of the pages, with forward slashes, and its text.</summary>
public sealed record SiteFile(string Path, string Text);

/// <summary>A page in whose place stands one that says that it could not be made.</summary>
public sealed record FailedPage(string Path, OurMistake Mistake);

/// <summary>Makes the site: every page in every language, the data they draw, and what they look like. Pure: the same inputs give the same
/// files, in the same order, and nothing is written, so that a server can hand them out as well as a folder can hold them.</summary>
public static class SiteMaker
{
    private const string CampaignFile = "data/check-campaign.js";

    /// <param name="progress">Called with what is made, how many are done, and how many there are.</param>
    /// <param name="failed">Is told each page that could not be made; the others are made all the same.</param>
    public static IEnumerable<SiteFile> Make(PagesInputs inputs, PagesOptions options, Action<string, int, int>? progress = null,
        Action<FailedPage>? failed = null)
    {
        Language[] languages = [.. options.Languages.Select(code => Language.Find(code)
            ?? throw new PagesException($"There is no language {code}; there are {string.Join(", ", Language.Known)}."))];
        ReleaseData data = inputs.Data;
        SimilarClimate climate = new(data, options.Climate);
        WarmthLesson lesson = WarmthLesson.Of(inputs, options.Climate);
        ILookup<string, ReleasedBurial> burials = data.Burials.ToLookup(b => b.ContributionId);
        ILookup<string, ReleasedFlag> flags = data.Flags.ToLookup(f => f.ContributionId);

        foreach (Language words in languages)
        {
            yield return Write(words, OverviewPage.Path, p => OverviewPage.Write(p, inputs));
            yield return Write(words, MapPage.Path, p => MapPage.Write(p, inputs));
            yield return Write(words, AnswersPage.Path, p => AnswersPage.Write(p, inputs));
            yield return Write(words, QualityPage.Path, p => QualityPage.Write(p, inputs));
            yield return Write(words, ModelKind.Rate.Path, p => ModelPage.Write(p, inputs, ModelKind.Rate));
            if (inputs.StabilisationModel is not null)
                yield return Write(words, ModelKind.Stabilisation.Path, p => ModelPage.Write(p, inputs, ModelKind.Stabilisation));
            yield return Write(words, DataPage.Path, p => DataPage.Write(p, inputs));
            yield return Write(words, ContributionsPage.Path, p => ContributionsPage.Write(p, inputs, burials, flags));
            yield return Write(words, ClassSheet.GeneralFile, p => ClassSheet.Write(p, lesson, null, inputs));
            if (CheckProgram.IsThere)
                yield return Write(words, CheckBody.Path, p => CheckOf(p, inputs));
            foreach (PublicIntake aside in inputs.SetAside)
                yield return Write(words, WaitingPage.FileOf(aside), p => WaitingPage.Write(p, inputs, aside));
            yield return new SiteFile($"data/words-{words.Code}.js", WordScript.Of(words, inputs));
        }

        // one contribution after the other, in all languages: what it is held against may be thousands of sites, and is let go again
        int done = 0;
        foreach (ReleasedContribution contribution in data.Contributions)
        {
            // within the wall round its pages
            Lazy<GroupResult> held = new(() => GroupResult.Of(contribution, data, climate, burials, flags));
            foreach (Language words in languages)
            {
                yield return Write(words, FileNames.OfContribution(contribution.ContributionId),
                    p => ContributionPage.Write(p, inputs, held.Value));
                if (burials.Contains(contribution.ContributionId))
                {
                    yield return Write(words, ClassSheet.FileOf(contribution.ContributionId),
                        p => ClassSheet.Write(p, lesson, held.Value, inputs));
                }
            }

            progress?.Invoke(contribution.ContributionId, ++done, data.Contributions.Count);
        }

        foreach ((string file, string text) in SiteScripts.All(inputs).Concat(MapScripts.All(inputs)))
            yield return new SiteFile(file, text);
        foreach (SiteFile file in QualityPage.Scripts(inputs).Concat(CheckScripts(inputs, languages, options.Climate)))
            yield return file;
        foreach (string name in PageAssets.Names.Where(name => CheckProgram.IsThere || !CheckBody.IsAsset(name)))
            yield return new SiteFile(name, PageAssets.Text(name));

        SiteFile Write(Language words, string path, Func<Page, string> write)
        {
            Page page = new(path, words, languages, options.Title.In(words.Code), data.ReleaseId);
            try
            {
                return new SiteFile(page.File, write(page));
            }
            catch (Exception fault) when (OurMistake.Is(fault))
            {
                failed?.Invoke(new FailedPage(page.File, OurMistake.Of(fault)));
                Markup body = Markup.Of($"<h1>{words["failed.title"]}</h1><p class=\"lead\">{words["failed.text"]}</p>");
                return new SiteFile(page.File, Frame.Document(page, words["failed.title"], body));
            }
        }
    }

    private static string CheckOf(Page page, PagesInputs inputs)
    {
        Markup body = Markup.Of(
            $"""
            {CheckBody.Of(page.Words)}
            <p class="nothing"><a href="{page.Root}{CheckInOneFile.FileName}" download>{page.Words["drop.stick"]}</a>
            · <a href="{page.Root}assets/check-licences.txt">{page.Words["foot.licences"]}</a></p>
            """);
        string[] campaign = inputs.Campaign is null ? [] : [CampaignFile];
        return Frame.Document(page, page.Words["drop.title"], body, "text",
            [
                CheckWords.FileOf(page.Words), "assets/say.js", ReleasedSpread.File, .. campaign, CheckProgram.RuntimeFile,
                CheckProgram.ProgramFile, "assets/check.js",
            ],
            [CheckBody.Style], PagePolicy.WithProgram);
    }

    private static IEnumerable<SiteFile> CheckScripts(PagesInputs inputs, Language[] languages, ClimateNames climate)
    {
        if (!CheckProgram.IsThere)
            yield break;
        foreach (Language words in languages)
            yield return new SiteFile(CheckWords.FileOf(words), Script.Assign("atlasWords", CheckWords.Of(words)));
        yield return new SiteFile(ReleasedSpread.File, ReleasedSpread.ScriptOf(inputs.Data, climate));
        if (inputs.Campaign is { } campaign)
            yield return new SiteFile(CampaignFile, CheckInOneFile.ScriptOf(campaign));
        yield return new SiteFile(CheckProgram.RuntimeFile, CheckProgram.RuntimeScript);
        yield return new SiteFile(CheckProgram.ProgramFile, CheckProgram.Program);
        yield return new SiteFile(CheckInOneFile.FileName, CheckInOneFile.Text(languages[0].Code, inputs.Campaign, inputs.Data, climate));
    }
}
