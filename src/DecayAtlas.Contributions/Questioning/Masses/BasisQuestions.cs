using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>Finds out whether the bag was weighed with its litter: by names of columns, a column of its own, notes, the campaign, else
/// asked.</summary>
internal sealed class BasisQuestions(AskedTable table, MassReading masses)
{
    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        List<JsonObject> said = SaidOfRows();
        MixedBags mixed = new(table, masses);
        JsonObject? source = OfColumn();
        if (said.Count == 0 && (source is null ? mixed.ByTare() : mixed.ByColumn(table.Of(ColumnChoice.WithBag)!, source)))
            return;
        if (source is null)
        {
            WeighedMass[] weighed = [.. WeighedMass.Of(table, masses)];
            Dictionary<WeighedMass, string> bases = mixed.AreAllWithBag ? weighed.ToDictionary(mass => mass, _ => "gross")
                : BasesOf(weighed);
            if (WithoutBags(weighed, bases, said.Count))
                return;
            string all = bases.Count > 0 ? bases.Values.First() : "gross";
            source = Odd(all, said.Count > 0 || mixed.AreAllWithBag) ?? MappingDraft.Value(all);
        }
        for (int i = said.Count - 1; i >= 0; i--)
        {
            said[i]["or"] = new JsonArray(source);
            source = said[i];
        }
        table.Draft.Bags["mass_basis"] = source;
    }

    // a column that says it of each row
    private JsonObject? OfColumn()
    {
        if (table.Of(ColumnChoice.WithBag) is not { } column)
            return null;
        (string Text, bool? IsYes)[] words = [.. column.Distinct.Select(text => (text, StateWords.YesOrNo(text)
            ?? (HeaderWords.Read(text, null).Basis is { } basis ? basis == "gross" : null)))];
        JsonObject source = MappingDraft.Column(column);
        source["words"] = MappingDraft.Words(words.Where(word => word.IsYes is not null)
            .Select(word => (word.Text, word.IsYes!.Value ? "gross" : "litter")));
        foreach ((string text, _) in words.Where(word => word.IsYes is null))
        {
            string? answer = _ask.Choose(Interview.Meaning, "basis-word:" + text, BasisChoices(), null,
                column.Seen(i => column.TextAt(i) == text), text);
            source["words"]![text] = answer ?? "gross";
        }
        _ask.Tell("basis-column", column.Filled, column.Seen(), column.Name);
        return source;
    }

    // each mass by the name of its own column; where one says it and another does not, that one is asked
    private Dictionary<WeighedMass, string> BasesOf(WeighedMass[] weighed)
    {
        WeighedMass[] silent = [.. weighed.Where(mass => mass.Column.Sense.Basis is null)];
        string? ofSilent = null;
        if (silent.Length == weighed.Length && SayingLines() is { Length: > 0 } lines)
        {
            string? said = _ask.Choose(Interview.Meaning, "basis-lines", [.. BasisChoices(),
                _ask.Option("gross-litter", "basis-first-with"), _ask.Option("litter-gross", "basis-last-with")], null,
                [.. lines.Select(cell => AskedColumn.Shown(cell, null))]);
            return weighed.ToDictionary(mass => mass, mass => (said ?? "gross").Split('-') is var parts && mass.IsFirst
                ? parts[0] : parts[^1]);
        }
        if (silent.Length == weighed.Length)
        {
            ofSilent = table.Campaign?.Bags.GetValueOrDefault("mass_basis")
                ?? _ask.Choose(Interview.Meaning, "basis", BasisChoices(), null, InitialSeen());
        }
        else if (silent.Length > 0)
        {
            WeighedMass telling = weighed.First(mass => mass.Column.Sense.Basis is not null);
            ofSilent = _ask.Choose(Interview.Meaning, "basis-silent", BasisChoices(), null,
                [.. silent.SelectMany(mass => mass.Column.Seen().Take(3))], telling.Column.Name,
                string.Join(", ", silent.Select(mass => mass.Column.Name).Distinct()));
        }
        return weighed.ToDictionary(mass => mass, mass => mass.Column.Sense.Basis ?? ofSilent ?? "gross");
    }

    // Where a bag has an empty mass of its own, or one of its two masses holds the bag and the other does not, the bag is taken off the
    // masses that hold it; both are those of the litter then. True where that was done or is asked.
    private bool WithoutBags(WeighedMass[] weighed, Dictionary<WeighedMass, string> bases, int said)
    {
        EmptyBags empty = new(table);
        Dictionary<WeighedMass, AskedColumn> own = weighed.Where(mass => bases[mass] == "gross" && !IsShareOfAll(mass.Role))
            .Select(mass => (mass, empty.OwnOf(mass))).Where(entry => entry.Item2 is not null)
            .ToDictionary(entry => entry.mass, entry => entry.Item2!);
        if (own.Count == 0 && bases.Values.Distinct().Count() <= 1)
            return false;
        // notes that say it of single rows would be said of masses that were changed
        if (said > 0)
        {
            string? answer = _ask.Choose(Interview.Meaning, "basis-notes", [_ask.Option("columns", "basis-notes-columns"),
                _ask.Option("notes", "basis-notes-notes")], null, [.. weighed.SelectMany(mass => mass.Column.Seen().Take(2))]);
            if (answer == "notes")
                table.IsHopeless = "two-bases";
            if (answer != "columns")
                return true;
        }
        foreach (WeighedMass mass in weighed.Where(mass => bases[mass] == "gross"))
        {
            if (own.TryGetValue(mass, out AskedColumn? column))
            {
                mass.Source["less"] = empty.OwnSource(column, mass.Role);
                double u = empty.UncertaintyOfReading();
                if (empty.IsAnyMissing(column) && empty.UncertaintyOfLots(mass.Role) is { } ofLots)
                    u = Math.Max(u, EmptyBags.Largest(ofLots));
                MassSource.AddUncertainty(table.Draft.BagsOf(mass.Role), mass.UncertaintyField, MappingDraft.Value(MassSource.Text(u)));
                _ask.Tell("tare-own", column.Filled, column.Seen(), column.Name, mass.Column.Name);
            }
            else if (empty.OfLots(mass.Role, "tare_g") is { } lot && empty.UncertaintyOfLots(mass.Role) is { } ofLots)
            {
                mass.Source["less"] = lot;
                MassSource.AddUncertainty(table.Draft.BagsOf(mass.Role), mass.UncertaintyField, ofLots);
                _ask.Tell("tare-of-lot", mass.Column.Filled, mass.Column.Seen(), mass.Column.Name);
            }
            else
            {
                table.IsHopeless = "two-bases";
            }
        }
        table.Draft.Bags["mass_basis"] = MappingDraft.Value("litter");
        return true;
    }

    // a share of litter and bag together needs the mass with the bag
    private bool IsShareOfAll(LitterRole? role) => (string?)table.Draft.BagsOf(role)["mass_final_g"]?["share_of"] == "all";

    // titles and remarks beside the table that say it go before the campaign, as the sender explains them
    private TidyCell[] SayingLines() => [.. table.Lines.Where(cell => BasisOf(cell.Value.Text) is not null
        || HeaderWords.Read(cell.Value.Text, null).HasAny(Concept.WithBag, Concept.WithoutBag))];

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
                said.Add(SaidIn(notes, remarks));
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
                // it stands at one mass: of the other of the same bag it says nothing
                bool isShare = !masses.IsRead(column);
                string? answer = isShare ? "both" : _ask.Choose(Interview.Meaning, "basis-cell:" + column.Name,
                    [_ask.Option("both", "basis-cell-both"), _ask.Option("one", "basis-cell-one")], null,
                    column.Seen(i => remarks.Any(e => e.Text == column.TextAt(i))), remarks[0].Text, column.Name);
                if (answer == "one")
                    table.IsHopeless = "two-bases";
                said.Add(SaidIn(column, remarks));
            }
        }
        return said;
    }

    private JsonObject SaidIn(AskedColumn column, (string Text, string Basis)[] remarks)
    {
        JsonObject source = MappingDraft.Column(column);
        source["form"] = "listed";
        source["words"] = MappingDraft.Words(remarks);
        _ask.Tell("basis-comment", column.Cells.Count(cell => remarks.Any(e => e.Text == AskedColumn.TextOf(cell))),
            column.Seen(i => remarks.Any(e => e.Text == column.TextAt(i))), column.Name);
        return source;
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
                    || CampaignLots.FitsOther(lot, mass, basis) is not { } isOdd)
                {
                    continue;
                }
                count++;
                if (isOdd)
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

    private JsonObject Listed(AskedColumn column, IEnumerable<int> rows, string meaning, string otherwise)
    {
        JsonObject source = MappingDraft.Column(column);
        source["form"] = "listed";
        foreach (int row in rows)
            MappingDraft.SetRow(source, table.RowNames[row], column.TextAt(row), meaning);
        source["or"] = new JsonArray(MappingDraft.Value(otherwise));
        return source;
    }
}
