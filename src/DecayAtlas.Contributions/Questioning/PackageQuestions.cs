using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>Finds out who sends, for which campaign, under which licence, and what the protocol says of all bags.</summary>
internal sealed class PackageQuestions(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    public void Make(string file)
    {
        JsonObject package = table.Draft.Package;
        Campaign? campaign = table.Campaign;
        string? contributor = Contributor();
        string campaignId = campaign?.Id ?? Id("campaign") ?? "";
        package["name"] = NameOf(file, campaignId, contributor);
        package["contributor"] = contributor ?? "";
        package["campaign"] = campaignId;
        package["protocol"] = campaign?.Protocol ?? Id("protocol") ?? "";
        package["licence"] = campaign?.Licence ?? _ask.Choose(Interview.Last, "licence",
            [new Choice("CC-BY-4.0", "CC-BY-4.0"), new Choice("CC0-1.0", "CC0-1.0"), new Choice("CC-BY-SA-4.0", "CC-BY-SA-4.0")],
                "CC-BY-4.0", []) ?? "";
        package["revision"] = _ask.AnswerTo("revision") is { } said && int.TryParse(said, NumberStyles.None, CultureInfo.InvariantCulture,
            out int revision) && revision is >= 1 and <= ContributionHeader.HighestRevision ? Invariant($"{revision}") : "1";
    }

    // The workbook of a kit is named by campaign and group. A table is named by its file too, so that it takes the place of nothing else
    // that the group sent; where it is said to mend something, what that is.
    private string NameOf(string file, string campaignId, string? contributor)
    {
        string ofGroup = $"{campaignId}-{contributor}", stem = StemOf(file);
        string? mended = table.Campaign is { Groups.Count: > 0 } && _ask.AnswerTo("revision") is not null ? _ask.Choose(Interview.Last,
            "mends", [_ask.Option("table", "mends-table", file), _ask.Option("other", "mends-other"), _ask.Option("kit", "mends-kit")],
            null, []) : null;
        if (mended == "other" && _ask.Enter(Interview.Last, "mends-file", QuestionKind.Text, text => StemOf(text).Length > 0, null, []) is
            { } earlier)
        {
            stem = StemOf(earlier);
        }
        return Identifier.Of(mended == "kit" ? ofGroup : $"{ofGroup}-{(stem.Length > 0 ? stem : "table")}").ToLowerInvariant();
    }

    private static string StemOf(string file) => Identifier.Of(Path.GetFileNameWithoutExtension(file).Replace('.', '-'));

    /// <summary>What holds for all bags: from the sheet, else from the campaign, else asked.</summary>
    public void OfAllBags()
    {
        JsonObject bags = table.Draft.Bags;
        foreach ((string field, string value) in table.Campaign?.Bags ?? new Dictionary<string, string>())
        {
            if (field != "mass_basis" && SchemaCatalogue.Bags.FindOrdinal(field) >= 0 && !bags.ContainsKey(field))
                bags[field] = MappingDraft.Value(value);
        }
        if (table.Of(ColumnChoice.Depth) is { IsNumbers: true } depth)
        {
            JsonObject source = MappingDraft.Column(depth);
            NumberForm.Of(depth)[0].WriteInto(source, depth);
            if (depth.Sense.Unit is "mm" or "m" or "in" or "ft")
                source["unit"] = depth.Sense.Unit;
            bags["depth_cm"] = source;
        }
        new DryingQuestions(table).Make();
        new WetWeighings(table).Make();
        new AshQuestions(table).Make();
        new MoistureQuestions(table).Make();
        Treatments();
        Others();
    }

    private string? Contributor()
    {
        if (table.Campaign is not { Groups.Count: > 0 } campaign)
            return Id("contributor");
        CampaignGroup? group = campaign.Groups.Count == 1 ? campaign.Groups[0] : null;
        if (group is null)
        {
            string? answer = _ask.Choose(Interview.Layout, "group",
                [.. campaign.Groups.Select(g => new Choice(g.Id, g.Title ?? g.Id))], null, []);
            group = campaign.Groups.FirstOrDefault(g => g.Id == answer);
        }
        table.Group = group;
        return group?.Id;
    }

    private string? Id(string what) =>
        _ask.Enter(Interview.Last, what, QuestionKind.Text, text => Identifier.Of(text).Length > 0, null, []) is { } answer
            ? Identifier.Of(answer).ToLowerInvariant() : null;

    public void Treatments()
    {
        if (table.Of(ColumnChoice.Treatment) is not { } column)
            return;
        List<(string, string)> words = [];
        foreach (string text in column.Distinct)
        {
            if (StateWords.IsNothing(text))
            {
                words.Add((text, ""));
                continue;
            }
            string? meaning = table.TreatmentOf(text);
            if (meaning is null && table.Campaign is { Treatments.Count: > 0 } campaign)
            {
                meaning = _ask.Choose(Interview.Meaning, "treatment:" + text,
                    [.. campaign.Treatments.Select(treatment => new Choice(treatment.Plain, treatment.In(_ask.Words.Code))),
                        _ask.Option("own", "own-word")], null,
                    column.Seen(i => column.TextAt(i) == text), text);
            }
            if (meaning is not null and not "own" && meaning != text)
                words.Add((text, meaning));
        }
        JsonObject source = MappingDraft.Column(column);
        if (words.Count > 0)
        {
            source["words"] = MappingDraft.Words(words);
            _ask.Tell("treatments", words.Count, column.Seen(), string.Join(", ", words.Take(6)
                .Select(word => $"{word.Item1}: {word.Item2}")));
        }
        table.Draft.Bags["treatment"] = source;
    }

    private void Others()
    {
        foreach ((string field, string target) in new[]
        {
            (ColumnChoice.Ecosystem, "ecosystem"), (ColumnChoice.LandUse, "land_use"), (ColumnChoice.Management, "management"),
        })
        {
            if (table.Of(field) is { IsWords: true } column && IsOfSites(column))
                table.Draft.Sites[target] = MappingDraft.Column(column);
        }
        if (table.Of(ColumnChoice.Country) is { } country && country.Distinct.All(text => text.Length == 2
            && text.All(char.IsAsciiLetterUpper)) && IsOfSites(country))
        {
            table.Draft.Sites["country_code"] = MappingDraft.Column(country);
        }
        else if (table.Group?.CountryCode is { } code)
        {
            table.Draft.Sites["country_code"] = MappingDraft.Value(code);
        }
    }

    private bool IsOfSites(AskedColumn column) => table.Of(ColumnChoice.Site) is { } site
        && Enumerable.Range(0, table.Rows.Count).GroupBy(site.TextAt).All(rows => rows.Select(column.TextAt).Where(t => t.Length > 0)
            .Distinct().Count() <= 1);
}
