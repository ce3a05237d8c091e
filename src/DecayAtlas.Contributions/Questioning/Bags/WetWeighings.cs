using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>Remarks that litter was weighed while it was still wet: they go before what the campaign or a column says of drying.</summary>
internal sealed class WetWeighings(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    // where other rows say dry it is the ground that is wet or dry
    private static bool IsWet(string text, SaidOfBags said) => StateWords.IsWeighedWetIn(text)
        || (DryingWords.IsUndried(text) && !StateWords.IsOfGround(text))
        || (StateWords.IsWetIn(text, IsOfWeighing(said.Column)) && !said.Texts.Any(StateWords.IsDryIn));

    private static bool IsOfWeighing(AskedColumn column) => column.Header.IsOfWeighing
        || column.Sense.HasAny(Concept.Mass, Concept.First, Concept.Last);

    // which of the two, where all of it stands in the cells of one of them
    private string? Weighing((LitterRole? Role, SaidOfBags Said)[] wet) =>
        Array.TrueForAll(wet, one => one.Said.Beside is not null && one.Said.Column == table.Of(ColumnChoice.Final, one.Role)) ? "last"
        : Array.TrueForAll(wet, one => one.Said.Beside is not null && one.Said.Column == table.Of(ColumnChoice.Initial, one.Role)) ? "first"
        : null;

    public void Make()
    {
        (LitterRole? Role, SaidOfBags Said, string[] Texts)[] wet = [.. table.Roles.SelectMany(role =>
            new StateQuestions(table).SaidOf(role).Select(said => (role, said, said.Texts.Where(text =>
                IsWet(text, said) && table.MaySpeakOf(role, text)).ToArray())))
            .Where(entry => entry.Item3.Length > 0)];
        if (wet.Length == 0)
            return;
        int[] rows = [.. Enumerable.Range(0, table.Rows.Count).Where(row => wet.Any(entry =>
            entry.Texts.Contains(entry.Said.TextAt(row))))];
        string? answer = _ask.Choose(Interview.Meaning, "weighed-wet",
            [_ask.Option("last", "wet-last"), _ask.Option("first", "wet-first"), _ask.Option("both", "wet-both"),
                _ask.Option("no", "wet-no")], Weighing([.. wet.Select(entry => (entry.Role, entry.Said))]),
            [.. rows.Select(table.SeenRow)], wet[0].Texts[0]);
        if (answer is "first" or "both")
            Say("drying_initial", "none");
        if (answer is "last" or "both")
            Say("drying", "none");
        // listed as saying nothing, so that a check does not tell of it
        if (answer == "no")
            Say("drying", "");

        void Say(string field, string drying)
        {
            foreach ((LitterRole? role, SaidOfBags said, string[] texts) in wet)
            {
                JsonObject bags = table.Draft.BagsOf(role), source = said.Source(texts.Select(text => (text, drying)));
                if ((bags[field] ?? table.Draft.Bags[field]) is { } otherwise)
                    source["or"] = new JsonArray(otherwise.DeepClone());
                bags[field] = source;
            }
        }
    }
}
