using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>Finds out whether the bag was weighed with its litter: by names of columns, a column of its own, notes, the campaign, else
/// asked.</summary>
internal sealed class BasisQuestions(AskedTable table, MassReading masses)
{
    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        string? stated = table.Columns.Where(column => table.Chosen.Any(entry => entry.Value == column
            && entry.Key.Field is ColumnChoice.Initial or ColumnChoice.Final)).Select(column => column.Sense.Basis)
                .FirstOrDefault(basis => basis is not null);
        string? all = stated ?? table.Campaign?.Bags.GetValueOrDefault("mass_basis");
        JsonObject? source = null;
        if (table.Of(ColumnChoice.WithBag) is { } column)
        {
            (string Text, bool? IsYes)[] words = [.. column.Distinct.Select(text => (text, StateWords.YesOrNo(text)))];
            source = MappingDraft.Column(column);
            source["words"] = MappingDraft.Words(words.Where(word => word.IsYes is not null)
                .Select(word => (word.Text, word.IsYes!.Value ? "gross" : "litter")));
            foreach ((string text, _) in words.Where(word => word.IsYes is null))
            {
                string? answer = _ask.Choose(Interview.Meaning, "basis-word:" + text, BasisChoices(), null,
                    column.Seen(i => column.TextAt(i) == text), text);
                source["words"]![text] = answer ?? "gross";
            }
            _ask.Tell("basis-column", column.Filled, column.Seen(), column.Name);
        }
        List<JsonObject> said = SaidOfRows();
        if (source is null && all is null)
            all = _ask.Choose(Interview.Meaning, "basis", BasisChoices(), null, InitialSeen()) ?? "gross";
        source ??= Odd(all!, said.Count > 0);
        source ??= MappingDraft.Value(all!);
        for (int i = said.Count - 1; i >= 0; i--)
        {
            said[i]["or"] = new JsonArray(source);
            source = said[i];
        }
        table.Draft.Bags["mass_basis"] = source;
    }

    private Choice[] BasisChoices() => [_ask.Option("gross", "gross"), _ask.Option("litter", "litter")];

    private IReadOnlyList<SeenCell> InitialSeen() =>
        [.. table.Roles.Select(role => table.Of(ColumnChoice.Initial, role)).OfType<AskedColumn>().SelectMany(column => column.Seen())];

    // notes on cells and remarks that say of some rows that the bag was weighed with them, or not
    private List<JsonObject> SaidOfRows()
    {
        List<JsonObject> said = [];
        foreach (AskedColumn notes in table.Remarks)
        {
            (string Text, string Basis)[] remarks = [.. notes.Distinct.Select(text => (text, BasisOf(text)))
                .Where(entry => entry.Item2 is not null)
                .Select(entry => (entry.text, entry.Item2!))];
            if (remarks.Length > 0)
            {
                JsonObject source = MappingDraft.Column(notes);
                source["form"] = "listed";
                source["words"] = MappingDraft.Words(remarks);
                said.Add(source);
                _ask.Tell("basis-comment", notes.Cells.Count(cell => remarks.Any(e => e.Text == AskedColumn.TextOf(cell))),
                    notes.Seen(i => remarks.Any(e => e.Text == notes.TextAt(i))), notes.Name);
            }
        }
        // a remark in the cell of a mass
        foreach (LitterRole? role in table.IsBurialRow ? [] : table.Roles)
        {
            foreach (AskedColumn column in new[] { table.Of(ColumnChoice.Initial, role), table.Of(ColumnChoice.Final, role) }
                .OfType<AskedColumn>())
            {
                (string Text, string Basis)[] remarks = [.. column.Distinct.Select(text =>
                    (text, WrittenNumber.Of(text) is { Beside.Length: > 0 } written ? BasisOf(written.Beside) : null))
                    .Where(entry => entry.Item2 is not null).Select(entry => (entry.text, entry.Item2!))];
                if (remarks.Length == 0)
                    continue;
                JsonObject source = MappingDraft.Column(column);
                source["form"] = "listed";
                source["words"] = MappingDraft.Words(remarks);
                said.Add(source);
                _ask.Tell("basis-comment", remarks.Length, column.Seen(i => remarks.Any(e => e.Text == column.TextAt(i))), column.Name);
            }
        }
        return said;
    }

    private static string? BasisOf(string text)
    {
        string[] words = Identifier.Folded(text).Split([' ', ',', '.', '(', ')', ';', ':', '!', '?', '\n', '/'],
            StringSplitOptions.RemoveEmptyEntries);
        bool isBag = words.Any(word =>
            word is "bag" or "net" or "beutel" or "netz" or "bolsa" or "bolsita" or "malla" or "sachet" or "filet" or "mesh");
        return !isBag ? null
            : words.Any(word => word is "without" or "ohne" or "sin" or "sans" or "off" or "removed" or "abgenommen"
                or "entfernt" or "quitada"
                or "retire" or "enleve") ? "litter"
            : words.Any(word => word is "with" or "mit" or "con" or "avec" or "incl" or "inkl" or "including" or "samt") ? "gross" : null;
    }

    // first masses that lie where those of the other way of weighing should: asked, never taken
    private JsonObject? Odd(string basis, bool isSaid)
    {
        if (isSaid || table.Campaign is null)
            return null;
        List<(AskedColumn Column, int Row)> odd = [];
        int count = 0;
        foreach (LitterRole? role in table.Roles)
        {
            if (table.Of(ColumnChoice.Initial, role) is not { } column)
                continue;
            for (int i = 0; i < column.Cells.Count; i++)
            {
                LitterRole? own = role ?? (i < table.RoleOfRow.Length ? table.RoleOfRow[i] : null);
                if (own is null || masses.Grams(column, i) is not { } mass || CampaignLots.OfRow(table, i, own.Value) is not { } lot
                    || CampaignLots.Number(lot, "litter_mass_nominal_g") is not { } nominal
                        || CampaignLots.Number(lot, "tare_g") is not { } tare)
                {
                    continue;
                }
                count++;
                double toGross = Math.Abs(mass - nominal - tare), toLitter = Math.Abs(mass - nominal);
                if ((basis == "gross" ? toLitter < toGross / 2 : toGross < toLitter / 2) && Math.Min(toLitter, toGross) < tare / 2)
                    odd.Add((column, i));
            }
        }
        if (odd.Count == 0)
            return null;
        string other = basis == "gross" ? "litter" : "gross";
        SeenCell[] seen = [.. odd.Take(8).Select(entry => entry.Column.SeenAt(entry.Row))];
        string? answer = _ask.Choose(Interview.Meaning, "basis-odd",
            [_ask.Option("as-stated", "basis-" + basis), _ask.Option("odd", odd.Count == count ? "basis-" + other : "basis-odd-" + other)],
            null, seen, odd.Count, count);
        if (answer != "odd")
            return null;
        if (odd.Count == count)
            return MappingDraft.Value(other);
        // a mapping knows a cell by its text: two bags of one text and two kinds can't be told apart by it
        (AskedColumn Column, int Row)[] alike = [.. odd.Where(entry => Enumerable.Range(0, entry.Column.Cells.Count).Any(row =>
            entry.Column.TextAt(row) == entry.Column.TextAt(entry.Row) && !odd.Contains((entry.Column, row))))];
        if (alike.Length > 0)
        {
            _ = _ask.Choose(Interview.Meaning, "basis-alike", [_ask.Option("as-stated", "basis-" + basis)], null,
                [.. alike.Take(8).Select(entry => entry.Column.SeenAt(entry.Row))], alike.Length);
            return null;
        }
        if (table.IsBurialRow)
        {
            foreach (LitterRole role in new[] { LitterRole.Fast, LitterRole.Slow })
            {
                AskedColumn[] own = [.. odd.Select(entry => entry.Column).Distinct().Where(c => c == table.Of(ColumnChoice.Initial, role))];
                if (own is [AskedColumn column])
                {
                    table.Draft.BagsOf(role)["mass_basis"] = Listed(column, odd.Where(e => e.Column == column).Select(e => e.Row), other,
                        basis);
                }
            }
            return null;
        }
        return Listed(odd[0].Column, odd.Select(entry => entry.Row), other, basis);
    }

    private static JsonObject Listed(AskedColumn column, IEnumerable<int> rows, string meaning, string otherwise)
    {
        JsonObject source = MappingDraft.Column(column);
        source["form"] = "listed";
        source["words"] = MappingDraft.Words(rows.Select(column.TextAt).Distinct().Select(text => (text, meaning)));
        source["or"] = new JsonArray(MappingDraft.Value(otherwise));
        return source;
    }
}
