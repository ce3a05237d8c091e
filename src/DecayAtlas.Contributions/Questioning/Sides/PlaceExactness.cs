using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Sides;

/// <summary>How exactly places are known, and whether everybody may see where they lie: one question for all of them, as a kit asks of
/// each. What a column of the sheet says goes before.</summary>
internal sealed class PlaceExactness(AskedTable table)
{
    private const int MostAsked = 8;

    private const string Open = "open", Hidden = "hidden", Some = "some";

    // metres round a point: a phone, a field, a village
    private static readonly string[] Radii = ["10", "100", "1000"];

    public void Make()
    {
        AskedColumn? site = table.Of(ColumnChoice.Site);
        string[] names = site is null ? [] : [.. site.Distinct];
        bool isMeasured = Measured(site);
        Interview ask = table.Ask;
        string? answer = ask.Choose(Interview.Last, "places",
            [
                ask.Option(Open, "places-open"),
                .. isMeasured ? Array.Empty<Choice>() : [.. Radii.Select(metres => ask.Option(metres, "places-exact", metres))],
                ask.Option(Hidden, "places-hidden"),
                .. names.Length is > 1 and <= MostAsked ? [ask.Option(Some, "places-some")] : Array.Empty<Choice>(),
            ],
            Open, site?.Seen() ?? []);
        if (answer is null)
            return;
        string[] hidden = answer == Hidden ? names : answer != Some ? [] : [.. names.Where(name => ask.Choose(Interview.Last,
            "hidden-of:" + name, [ask.Option("yes", "hidden-yes"), ask.Option("no", "hidden-no")], null, [], name) == "yes")];
        if (Radii.Contains(answer))
            table.Draft.Sites["coordinate_uncertainty_m"] = MappingDraft.Value(answer);
        if (answer != Some || site is null)
        {
            table.Draft.Sites["coordinates_sensitive"] = MappingDraft.Value(answer == Hidden ? "yes" : "no");
        }
        else
        {
            JsonObject source = MappingDraft.Column(site);
            source["words"] = MappingDraft.Words(names.Select(name => (name, hidden.Contains(name) ? "yes" : "no")));
            table.Draft.Sites["coordinates_sensitive"] = source;
        }
        Rename(names, hidden);
    }

    // the id of a hidden place is published too, and says nothing of its name
    private void Rename(string[] names, string[] hidden)
    {
        JsonObject rows = table.Draft.OneRowIs == "result" ? table.Draft.Results : table.Draft.Bags;
        foreach (JsonObject section in new[] { table.Draft.Sites, rows })
        {
            if (section["site_id"] is not JsonObject { } source || source["words"] is not JsonObject words)
                continue;
            HashSet<string> taken = [.. words.Where(word => !hidden.Contains(word.Key)).Select(word => word.Value!.GetValue<string>())];
            Dictionary<string, string> renamed = [];
            foreach (string name in hidden.Where(name => words[name] is not null))
            {
                string id = words[name]!.GetValue<string>();
                if (!renamed.TryGetValue(id, out string? neutral))
                {
                    neutral = Invariant($"place-{Array.IndexOf(names, name) + 1}");
                    while (!taken.Add(neutral))
                        neutral += "-x";
                    renamed[id] = neutral;
                }
                words[name] = neutral;
            }
        }
    }

    // metres of a column that says the same in all rows of a place
    private bool Measured(AskedColumn? site)
    {
        AskedColumn? column = table.Columns.FirstOrDefault(column => column.IsNumbers && !column.IsHidden
            && column.Sense.Has(Concept.Uncertainty) && column.Sense.Unit is "m" or "km" && !table.Chosen.ContainsValue(column));
        if (column is null || Enumerable.Range(0, table.Rows.Count).GroupBy(row => site?.TextAt(row) ?? "")
            .Any(rows => rows.Select(column.TextAt).Distinct().Count() > 1))
        {
            return false;
        }
        JsonObject source = MappingDraft.Column(column);
        NumberForm.Of(column)[0].WriteInto(source, column);
        if (column.Sense.Unit == "km")
            source["unit"] = "km";
        table.Draft.Sites["coordinate_uncertainty_m"] = source;
        return true;
    }
}
