namespace DecayAtlas.Pages.Tests;

/// <summary>The pages of the model of k and of the model of S, held against the cards that were put in.</summary>
public sealed class WhatTheModelPagesSay : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory().FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    [Fact]
    public void Each_model_has_a_page_that_leads_to_the_other()
    {
        SiteFile[] files = Make(Card("k", 0.1823), Card("s", 0.02));
        Assert.Contains("href=\"model-s.html\"", Text(files, "model.html"), StringComparison.Ordinal);
        Assert.Contains("href=\"model.html\">The model of <i>k</i>", Text(files, "model-s.html"), StringComparison.Ordinal);
        Assert.Contains("href=\"../de/model-s.html\"", Text(files, "de/model.html"), StringComparison.Ordinal);
    }

    [Fact]
    public void An_error_of_ln_k_is_told_as_a_factor_and_one_of_S_as_a_distance()
    {
        SiteFile[] files = Make(Card("k", 0.1823), Card("s", 0.02));
        Assert.Contains("× 1.20<", Text(files, "model.html"), StringComparison.Ordinal);   // e^0.1823 = 1.20
        Assert.Contains("± 0.020<", Text(files, "model-s.html"), StringComparison.Ordinal);
        Assert.DoesNotContain("ln k", Text(files, "model-s.html"), StringComparison.Ordinal);
    }

    [Fact]
    public void An_atlas_that_has_no_model_of_S_has_no_page_of_it_and_no_way_to_one()
    {
        SiteFile[] files = Make(Card("k", 0.1823), null);
        Assert.DoesNotContain(files, f => f.Path.EndsWith("model-s.html", StringComparison.Ordinal));
        Assert.DoesNotContain("model-s.html", Text(files, "model.html"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_candidate_that_was_left_out_is_named_with_its_reason()
    {
        SiteFile[] files =
            Make(Card("k", 0.1823,
                """, "left_out": [{ "name": "forest", "title": "Random forest (FastForest)", "reason": "It < broke off." }]"""),
                Card("s", 0.02));
        Assert.Contains("<li>Random forest (FastForest): It &lt; broke off.</li>", Text(files, "model.html"), StringComparison.Ordinal);
        Assert.Contains("<li>Zufallswald (FastForest): <span lang=\"en\">It &lt; broke off.</span></li>", Text(files, "de/model.html"),
            StringComparison.Ordinal);
        Assert.DoesNotContain("Left out", Text(files, "model-s.html"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{ "scores": [null] }""")]
    [InlineData("""{ "scores": [{ "blocked": 1 }] }""")]
    [InlineData("[]")]
    [InlineData("no JSON")]
    public void A_card_that_cannot_be_read_is_one_sentence_that_says_what_to_do(string card)
    {
        File.WriteAllText(Path.Combine(_folder, "card.json"), card);

        string says = Assert.Throws<PagesException>(() => ModelFolder.Read(_folder)).Message;
        Assert.EndsWith("card.json can't be read as a model card; delete its folder and run again.", says, StringComparison.Ordinal);
    }

    private ModelFolder Card(string name, double rmse, string more = "")
    {
        string folder = Directory.CreateDirectory(Path.Combine(_folder, name)).FullName;
        File.WriteAllText(Path.Combine(folder, "card.json"), FormattableString.Invariant(
            $$"""{ "model_id": "m-{{name}}", "winner": "linear", "scores": [{ "name": "linear", "title": "Linear", "blocked": { "pooled": { "rmse": {{rmse}}, "r2": 0.5 } } }]{{more}} }"""));
        File.WriteAllBytes(Path.Combine(folder, "residual-map.svg"), []);
        return ModelFolder.Read(folder)!;
    }

    private static SiteFile[] Make(ModelFolder? rate, ModelFolder? stabilisation)
    {
        ReleaseData data = Examples.WarmerIsFaster(3);
        return [.. SiteMaker.Make(Examples.Inputs(data) with { Model = rate, StabilisationModel = stabilisation }, Examples.Options(data))];
    }

    private static string Text(SiteFile[] files, string path) => files.Single(f => f.Path == path).Text;
}
