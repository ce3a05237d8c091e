using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>Days in the soil: with a day of burial alone they say when a bag was dug up; beside both days they must agree with
/// them.</summary>
internal sealed class DaysBeside(AskedTable table)
{
    /// <summary>Whether the first or the last day is counted is a day's difference.</summary>
    private const double MostApart = 1;

    private const int MostDays = 3660;

    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        if (table.Of(ColumnChoice.Days) is not { } days || !(days.IsNumbers || Durations.AreInWords(days)))
            return;
        Durations durations = new(table, days);
        (int Row, DateOnly Buried, double Days)[] known = [.. Enumerable.Range(0, table.Rows.Count)
            .Where(table.BuriedOn.ContainsKey).Select(row => (row, table.BuriedOn[row], durations.DaysAt(row, table.BuriedOn[row])))
            .Where(entry => entry.Item3 is >= 0 and <= MostDays).Select(entry => (entry.row, entry.Item2, entry.Item3!.Value))];
        if (!table.Chosen.Keys.Any(key => key.Field == ColumnChoice.Retrieved) && !table.Draft.Bags.ContainsKey("retrieved_on"))
        {
            Retrieved(days, known);
            return;
        }
        (int Row, DateOnly Retrieved, DateOnly Buried, double Days)[] apart = [.. known
            .Where(entry => table.RetrievedOn.ContainsKey(entry.Row))
            .Select(entry => (entry.Row, table.RetrievedOn[entry.Row], entry.Buried, entry.Days))
            .Where(entry => Math.Abs(entry.Item2.DayNumber - entry.Buried.DayNumber - entry.Days) > MostApart)];
        if (apart.Length == 0)
            return;
        string? answer = _ask.Choose(Interview.Values, "days-apart", [_ask.Option("dates", "days-apart-dates"),
            _ask.Option("days", "days-apart-days")], null, [.. apart.Take(8).Select(entry => table.SeenRow(entry.Row))], apart.Length,
            days.Name, _ask.Words.Day(apart[0].Buried), _ask.Words.Day(apart[0].Retrieved), apart[0].Days,
            apart[0].Retrieved.DayNumber - apart[0].Buried.DayNumber);
        if (answer == "days")
            Instead(days, [.. apart.Select(entry => (entry.Row, entry.Buried, entry.Days))]);
    }

    private void Retrieved(AskedColumn days, (int Row, DateOnly Buried, double Days)[] known)
    {
        if (known.Length == 0)
            return;
        table.Draft.Bags["retrieved_on"] = ByRow(days, known);
        _ask.Tell("days-to-day", known.Length, days.Seen(), days.Name, _ask.Words.Day(known[0].Buried), known[0].Days,
            _ask.Words.Day(known[0].Buried.AddDays((int)Math.Round(known[0].Days))));
    }

    // the days go before the day of digging up in these rows, whatever column that stands in
    private void Instead(AskedColumn days, (int Row, DateOnly Buried, double Days)[] rows)
    {
        foreach (LitterRole? role in table.Roles)
        {
            JsonObject bags = table.Draft.BagsOf(role).ContainsKey("retrieved_on") ? table.Draft.BagsOf(role) : table.Draft.Bags;
            if (bags["retrieved_on"] is not JsonObject source || (string?)source["column"] == days.Name)
                continue;
            JsonObject first = ByRow(days, rows);
            first["or"] = new JsonArray(source.DeepClone());
            bags["retrieved_on"] = first;
        }
    }

    private JsonObject ByRow(AskedColumn days, (int Row, DateOnly Buried, double Days)[] rows)
    {
        JsonObject source = MappingDraft.Column(days);
        source["form"] = "listed";
        foreach ((int row, DateOnly buried, double count) in rows)
            MappingDraft.SetRow(source, table.RowNames[row], days.TextAt(row), Shown(buried.AddDays((int)Math.Round(count))));
        return source;
    }

    private static string Shown(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
