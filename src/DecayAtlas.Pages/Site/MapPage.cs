namespace DecayAtlas.Pages.Site;

/// <summary>The map: sites, what is predicted between them, and all that is known of one site.</summary>
internal static class MapPage
{
    public const string Path = "map.html";

    private static readonly string[] Uses = ["accepted", "suspect", "rejected"];
    private static readonly string[] Legends = ["k", "s", "width.k", "width.s", "off.k", "off.s"], Colourings = ["value", "width", "off"];

    public static string Write(Page page, PagesInputs inputs)
    {
        (Language words, ReleaseData data) = (page.Words, inputs.Data);
        Markup body = Markup.Of(
            $"""
            <h1 class="unseen">{words["nav.map"]}</h1>
            <p class="over on-paper">{page.Title}. {words.Say("foot.release", page.ReleaseId)}</p>
            <p class="over on-paper" id="early" hidden>{words["map.early"]}</p>
            <div class="atlas" data-root="{page.Root}" data-here="{page.To("")}">
            <section class="controls" aria-label="{words["map.filters"]}">
            <p class="count" id="count" role="status" aria-live="polite"></p>
            <form id="search" role="search"><label for="seek">{words["map.search"]}</label><span><input type="search" id="seek"
              list="found" autocomplete="off" placeholder="{words["map.search.like"]}"><button class="quiet">{words[
                "map.search.go"]}</button></span><datalist id="found"></datalist><p id="sought" class="nothing" role="status"></p></form>
            <form id="filters">
            {Choice("ecosystem", words["word.ecosystem"], data.Sites.Select(s => s.Ecosystem), words.Word)}
            {Choice("landUse", words["word.land_use"], data.Sites.Select(s => s.LandUse), words.Word)}
            {Choice("campaign", words["word.campaign"], data.Burials.Where(b => data.SiteByKey.ContainsKey(b.SiteKey))
                .Select(b => b.Campaign), id => inputs.Titles.Campaign(id, words))}
            {Choice("flag", words["word.flag"], data.Flags.Where(f => data.SiteOf(f) is not null).Select(f => f.Code),
                code => FlagWords.Title(code, words),
                Markup.Of($"<option value=\"-\">{words["map.no-flag"]}</option>"))}
            <div class="field"><label for="use">{words["word.use"]}</label><select id="use" name="use">
            <option value="">{words["map.any"]}</option>
            {Uses.Select(u => Markup.Of($"<option value=\"{u[..1]}\">{words.Word(u)}</option>"))}</select></div>
            <button type="reset" class="quiet">{words["map.reset"]}</button>
            </form>
            {Markup.If(inputs.Land.Count == 0, $"<p class=\"nothing\">{words["map.no-land"]}</p>")}
            {Layers(words, inputs)}
            {Keys(words, inputs)}
            <details id="listing"><summary>{words["map.list"]}</summary><ol id="list"></ol><p id="list-rest" class="nothing"></p></details>
            </section>
            <div class="stage{Markup.If(inputs.Land.Count == 0, $" no-land")}"><div id="map" role="application" aria-label="{words[
              "map.name"]}"></div><p id="reading" class="reading" hidden></p>
            {Legend(words, inputs)}</div>
            <aside id="site" aria-labelledby="site-name" hidden></aside>
            </div>
            <noscript><p>{words["map.noscript"]}</p></noscript>
            """);
        return Frame.Document(page, words["nav.map"], body, "mapped",
            ["assets/vendor/leaflet.js", "assets/vendor/supercluster.js", $"data/words-{words.Code}.js", MapScripts.LandFile,
            .. inputs.Relief is null ? Array.Empty<string>() : [MapScripts.ReliefFile], SiteScripts.IndexFile, "assets/say.js",
            "assets/prediction.js", "assets/ground.js", "assets/legend.js", "assets/curves.js", "assets/site.js", "assets/map.js"],
            ["assets/vendor/leaflet.css"]);

        Markup Choice(string name, string label, IEnumerable<string?> values, Func<string, string> told, Markup first = default)
        {
            IEnumerable<Markup> choices = values.OfType<string>().Distinct().Order(StringComparer.Ordinal)
                .Select(v => Markup.Of($"<option value=\"{v}\">{told(v)}</option>"));
            return Markup.Of(
                $"""
                <div class="field"><label for="{name}">{label}</label><select id="{name}" name="{name}"><option value="">{words.Say(
                    "map.any")}</option>{first}{choices}</select></div>
                """);
        }
    }

    private static Markup Layers(Language words, PagesInputs inputs)
    {
        if (inputs.Raster is not { } raster)
            return Markup.Of($"<p class=\"nothing\">{words["map.no-prediction"]}</p>\n");
        string[] quantities = ["k", .. inputs.StabilisationRaster is null ? Array.Empty<string>() : ["s"],
            .. inputs.Joint is null || inputs.StabilisationRaster is null ? Array.Empty<string>() : ["joint"]];
        IEnumerable<Markup> switches = quantities.Select(q => Markup.Of(
            $"""
            <label><input type="radio" name="of" value="{q}"{Markup.If(
                q == "k", $" checked")}> <span>{words.Rich("map.of." + q)}</span></label>

            """));
        string[] layers = ["rate", .. raster is { Lower: not null, Upper: not null } ? new[] { "lower", "upper", "width" } : [],
            .. inputs.Model is { Unseen.Count: > 0 } ? new[] { "off" } : [], "none"];
        IEnumerable<Markup> choices = layers.Select(layer => Markup.Of(
            $"""
            <label><input type="radio" name="layer" value="{layer}"{Markup.If(
                layer == "rate", $" checked")}> {words["map.layer." + layer]}</label>

            """));
        return Markup.Of(
            $"""
            {Markup.If(quantities.Length > 1, $"""
                <fieldset id="quantities"><legend>{words["map.of"]}</legend>
                {switches}<p class="nothing of-joint" hidden>{Markup.If(inputs.Joint is not null, $"{words.Rich(
                    "map.joint.text", inputs.Joint is { } j ? JointSection.CutsOf(j, words) : [])}")} {words.Rich(
                    "joint.construction")}</p></fieldset>

                """)}
            <fieldset id="layers"><legend>{words["map.layer"]}</legend>
            {inputs.SaidOfMap(words)}{choices}{Markup.If(raster.Applies is not null, $"""
                <label class="apart"><input type="checkbox" id="applies" checked> {words["map.applies"]}</label>
                """)}
            <label class="apart">{words["map.opacity"]} <input type="range" id="opacity" min="0" max="100" value="85"></label>
            {Markup.If(raster.Lower is null, $"<p class=\"nothing\">{words["map.no-interval"]}</p>")}{Markup.If(
                raster.IsThinned, $"<p class=\"nothing\">{words["map.thinned"]}</p>")}{Markup.If(
                inputs.MapWithoutNoted is not null, $"<p class=\"nothing\">{words.Rich("map.noted",
                    words.Percent(inputs.MapWithoutNoted?.MedianFactor - 1),
                    words.Percent(inputs.MapWithoutNoted?.Factor95 - 1))}</p>")}<p class="nothing">{words.Rich(
                "overview.rates.left-out", inputs.Data.Rates.Values.Sum(r => r.NotPositive),
                inputs.Data.Rates.Values.Sum(r => r.AtPlateau))}</p></fieldset>

            """);
    }

    /// <summary>What is shown, its colours with round numbers, and for rates half-lives along the other side.</summary>
    private static Markup Legend(Language words, PagesInputs inputs)
    {
        IEnumerable<Markup> titles = Legends.Select(what => Markup.Of(
            $"<span data-what=\"{what}\" hidden>{words.Rich("map.legend." + what)}</span>"));
        return Markup.Of(
            $"""
            <div class="legend" id="legend" hidden><div id="legend-scale"><p class="what">{titles}<span data-part="lower" hidden>, {words[
                "map.layer.lower"]}</span><span data-part="upper" hidden>, {words["map.layer.upper"]}</span></p><p
              class="axis" data-when="days">{words.Rich("map.legend.days")}</p><p class="ticks"
              id="half-lives"></p><canvas id="ramp" width="256" height="12" aria-hidden="true"></canvas><p class="ticks" id="ticks"></p><p
              class="ends" data-when="off"><span>{words["map.legend.off.low"]}</span><span>{words[
                "map.legend.off.high"]}</span></p></div>{JointLegend(words, inputs)}</div>
            """);
    }

    /// <summary>What marks stand for, by what is shown.</summary>
    private static Markup Keys(Language words, PagesInputs inputs)
    {
        IEnumerable<Markup> sites = Colourings.Select(by => Markup.Of(
            $"<span data-by=\"{by}\"{Markup.If(by != "value", $" hidden")}>{words.Rich("map.key.site." + by)}</span>"));
        return Markup.Of(
            $"""
            <ul class="keys"><li><span class="key site"></span>{sites}</li><li data-unless="width"><span
              class="key hollow"></span><span>{words.Rich("map.key.hollow")}</span></li><li><span class="key cluster">12</span><span
              data-unless="width">{words.Rich("map.key.cluster")}</span><span data-by="width" hidden>{words[
                "map.key.cluster.width"]}</span></li>{Markup.If(inputs.Raster?.Applies is not null, $"""
                <li data-when="raster"><span class="key beyond"></span><span>{words["map.key.beyond"]}</span></li>
                """)}</ul><p class="nothing" data-when="off" hidden>{words["map.off.text"]}</p>
            """);
    }

    private static Markup JointLegend(Language words, PagesInputs inputs)
    {
        if (inputs.Joint is not { } joint)
            return Markup.None;
        IEnumerable<Markup> classes = joint.Classes.Select(c => Markup.Of(
            $"<li>{JointSection.Swatch(c.Code)}<span>{words["map.joint." + c.Name]}</span></li>"));
        return Markup.Of($"<div id=\"legend-joint\" hidden><ul class=\"joint-key\">{classes}</ul><p>{words["map.joint.pale"]}</p></div>");
    }
}
