using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>Finds out whether the bag was weighed with its litter: by names of columns, a column of its own, notes, the campaign, else
/// asked.</summary>
internal sealed class BasisQuestions(AskedTable table, MassReading masses)
{
    private readonly Interview _ask = table.Ask;

    // lines that a mark in a cell points to
    private readonly HashSet<string> _footnotes = [];

    public void Make()
    {
        List<OneMassRemark> ofOne = [];
        List<JsonObject> said = SaidOfRows(ofOne);
        MixedBags mixed = new(table, masses);
        JsonObject? source = OfColumn();
        if (said.Count == 0 && ofOne.Count == 0
            && (source is null ? mixed.ByTare() : mixed.ByColumn(table.Of(ColumnChoice.WithBag)!, source)))
        {
            return;
        }
        if (source is null)
        {
            WeighedMass[] weighed = [.. WeighedMass.Of(table, masses)];
            Dictionary<WeighedMass, string> bases = mixed.AreAllWithBag ? weighed.ToDictionary(mass => mass, _ => "gross")
                : BasesOf(weighed);
            if (WithoutBags(weighed, bases, said.Count + ofOne.Count))
                return;
            string all = bases.Count > 0 ? bases.Values.First() : "gross";
            // what a line says of them may explain the masses
            bool isSaid = said.Count > 0 || _ask.IsOpen("basis-lines") || ofOne.Exists(remark => remark.IsFirst) || mixed.AreAllWithBag;
            source = Odd(all, isSaid, weighed) ?? MappingDraft.Value(all);
        }
        for (int i = said.Count - 1; i >= 0; i--)
        {
            said[i]["or"] = new JsonArray(source);
            source = said[i];
        }
        table.Draft.Bags["mass_basis"] = source;
        if (ofOne.Count > 0)
            new OneMassRemarks(table, masses).Make(ofOne);
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
            return SaidByLines(weighed, lines);
        if (silent.Length == weighed.Length && NamesDiffer(weighed) is var (first, last))
        {
            string? said = _ask.Choose(Interview.Meaning, "basis-named", TwoBases(), $"{Said(first)}-{Said(last)}",
                [.. first.Column.Seen().Take(3), .. last.Column.Seen().Take(3)], first.Column.Name, last.Column.Name);
            return ByWeighing(weighed, said ?? "gross");
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

    // a line that says it of all masses is believed; any other is shown
    private Dictionary<WeighedMass, string> SaidByLines(WeighedMass[] weighed, TidyCell[] lines)
    {
        BasisWords?[] words = [.. lines.Select(cell => BasisWords.Of(cell.Value.Text))];
        SeenCell[] seen = [.. lines.Select(cell => AskedColumn.Shown(cell, null))];
        string?[] bases = [.. words.Select(one => one is { IsUnclear: false, IsFirst: null } ? one.Basis : null).Distinct()];
        string? basis = bases.Length == 1 ? bases[0] : null;
        if (basis is not null && words.All(one => one!.IsOfAll))
        {
            _ask.Tell("basis-lines-" + basis, lines.Length, seen, lines[0].Value.Text.Trim());
            return weighed.ToDictionary(mass => mass, _ => basis);
        }
        return ByWeighing(weighed, _ask.Choose(Interview.Meaning, "basis-lines", TwoBases(), basis, seen) ?? "gross");
    }

    // gross, litter, or one of the first masses and one of the last
    private static Dictionary<WeighedMass, string> ByWeighing(WeighedMass[] weighed, string said) => weighed.ToDictionary(mass => mass,
        mass => said.Split('-') is var parts && mass.IsFirst ? parts[0] : parts[^1]);

    // one weighing is called that of litter and the other that of a bag: either may be the whole or not
    private static (WeighedMass First, WeighedMass Last)? NamesDiffer(WeighedMass[] weighed)
    {
        WeighedMass[] first = [.. weighed.Where(mass => mass.IsFirst && Said(mass) is not null)],
            last = [.. weighed.Where(mass => !mass.IsFirst && Said(mass) is not null)];
        return first.Length > 0 && last.Length > 0 && Said(first[0]) != Said(last[0])
            && first.Select(Said).Distinct().Count() == 1 && last.Select(Said).Distinct().Count() == 1 ? (first[0], last[0]) : null;
    }

    private static string? Said(WeighedMass mass) => BagOrLitter.NamedIn(mass.Column.Name);

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

    // titles and remarks beside the table that say it go before the campaign, as the sender explains them; a footnote is of what it marks
    private TidyCell[] SayingLines() => [.. table.Lines.Where(cell => !_footnotes.Contains(cell.Value.Text)
        && (BasisWords.Of(cell.Value.Text) is not null
            || HeaderWords.Read(cell.Value.Text, null).HasAny(Concept.WithBag, Concept.WithoutBag)))];

    private Choice[] BasisChoices() => [_ask.Option("gross", "gross"), _ask.Option("litter", "litter")];

    private Choice[] TwoBases() =>
        [.. BasisChoices(), _ask.Option("gross-litter", "basis-first-with"), _ask.Option("litter-gross", "basis-last-with")];

    private IReadOnlyList<SeenCell> InitialSeen() =>
        [.. table.Roles.Select(role => table.Of(ColumnChoice.Initial, role)).OfType<AskedColumn>().SelectMany(column => column.Seen())];

    // notes on cells and remarks that say of some rows that the bag was weighed with them, or not
    private List<JsonObject> SaidOfRows(List<OneMassRemark> ofOne)
    {
        List<JsonObject> said = [];
        foreach (AskedColumn notes in table.Remarks)
        {
            List<(string, string)> ofBoth = [];
            foreach (string text in notes.Distinct)
            {
                if (BasisWords.Of(text) is not { } words || (words.IsUnclear ? Asked(notes, text) : words.Basis) is not { } basis)
                    continue;
                string? of = words.IsFirst is { } isFirst ? isFirst ? "first" : "last"
                    : !IsDoubtful(notes, text, basis) ? "both"
                    : _ask.Choose(Interview.Meaning, "basis-of:" + text, [_ask.Option("last", "wet-last"),
                        _ask.Option("first", "wet-first"), _ask.Option("both", "wet-both")], null,
                        [.. Enumerable.Range(0, table.Rows.Count).Where(row => notes.TextAt(row) == text).Select(table.SeenRow)],
                        text);
                if (of == "both")
                    ofBoth.Add((text, basis));
                else if (of is not null)
                    ofOne.Add(new OneMassRemark(notes, text, of == "first", basis));
            }
            if (ofBoth.Count > 0)
                said.Add(SaidIn(notes, [.. ofBoth]));
        }
        // a remark in the cell of a mass, or a mark there that a line explains
        foreach (LitterRole? role in table.Roles)
        {
            foreach (AskedColumn column in new[] { table.Of(ColumnChoice.Initial, role), table.Of(ColumnChoice.Final, role) }
                .OfType<AskedColumn>())
            {
                (string Text, string Said, BasisWords? Words)[] remarks = [.. column.Distinct.Select(text =>
                    (text, WrittenNumber.Of(text) is { Beside.Length: > 0 } written ? Explained(written.Beside) : ""))
                    .Select(entry => (entry.text, entry.Item2, BasisWords.Of(entry.Item2))).Where(entry => entry.Item3 is not null)];
                if (remarks.Length == 0)
                    continue;
                // it stands at one mass: of the other of the same bag it says nothing, unless it names one
                bool isFirst = column == table.Of(ColumnChoice.Initial, role);
                string? answer = !masses.IsRead(column) ? "both"
                    : remarks.All(remark => remark.Words!.IsFirst == isFirst) ? "one"
                    : _ask.Choose(Interview.Meaning, "basis-cell:" + column.Name,
                        [_ask.Option("both", "basis-cell-both"), _ask.Option("one", "basis-cell-one")], null,
                        column.Seen(i => remarks.Any(e => e.Text == column.TextAt(i))), remarks[0].Said, column.Name);
                // in a row of two bags it is of the bag of its cell
                bool isOfBag = answer == "both" && role is not null;
                foreach (bool isOfFirst in answer == "one" ? new[] { isFirst } : isOfBag ? [true, false] : [])
                {
                    ofOne.AddRange(remarks.Select(one =>
                        new OneMassRemark(column, one.Text, isOfFirst, one.Words!.Basis) { Role = role }));
                }
                if (answer == "both" && !isOfBag)
                    said.Add(SaidIn(column, [.. remarks.Select(one => (one.Text, one.Words!.Basis))]));
            }
        }
        return said;
    }

    // it names both ways: without the bag? no, with it
    private string? Asked(AskedColumn notes, string text) => _ask.Choose(Interview.Meaning, "basis-word:" + text, BasisChoices(), null,
        notes.Seen(i => notes.TextAt(i) == text), text);

    // a remark that names no weighing, beside a first mass that may as well have been weighed the other way
    private bool IsDoubtful(AskedColumn notes, string text, string basis) => table.Campaign is not null && table.Roles.Any(role =>
        table.Of(ColumnChoice.Initial, role) is { } column && table.Of(ColumnChoice.Final, role) is { } final && masses.IsRead(final)
        && Enumerable.Range(0, table.Rows.Count).Any(row => notes.TextAt(row) == text && table.MaySpeakOf(role, text)
            && (role ?? table.RoleOfRow.ElementAtOrDefault(row)) is { } own && masses.Grams(column, row) is { } first
            && CampaignLots.OfRow(table, row, own) is { } lot && !IsPlainly(lot, first, basis == "gross" ? "litter" : "gross")));

    private static bool IsPlainly(IReadOnlyDictionary<string, string> lot, double first, string notBasis) =>
        CampaignLots.FitsOther(lot, first, notBasis) == true || CampaignLots.FitsOtherOnly(lot, first, notBasis) == true;

    // the line that a star behind a number points to
    private string Explained(string beside)
    {
        if (CellRemarks.LineOf(table, beside) is not { } line)
            return beside;
        _footnotes.Add(line);
        return line.Trim();
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

    // First masses that lie where those of the other way of weighing should, and not where the campaign has them: asked, never taken. Of
    // the last masses they tell nothing: litter that was weighed alone before burial is often weighed with its bag after it.
    private JsonObject? Odd(string basis, bool isSaid, WeighedMass[] weighed)
    {
        if (isSaid || table.Campaign is null)
            return null;
        (AskedColumn Column, int Row, double Grams, IReadOnlyDictionary<string, string> Lot, bool IsOdd)[] known =
        [
            .. from role in table.Roles
               let column = table.Of(ColumnChoice.Initial, role)
               where column is not null
               from row in Enumerable.Range(0, column.Cells.Count)
               let own = role ?? (row < table.RoleOfRow.Length ? table.RoleOfRow[row] : null)
               let lot = own is null ? null : CampaignLots.OfRow(table, row, own.Value)
               let mass = masses.Grams(column, row)
               where lot is not null && mass is not null && !IsHeavierLast(role, row, mass.Value)
               let isOdd = CampaignLots.FitsOtherOnly(lot!, mass!.Value, basis)
               where isOdd is not null
               select (column!, row, mass!.Value, lot!, isOdd!.Value),
        ];
        (AskedColumn Column, int Row)[] odd = [.. known.Where(mass => mass.IsOdd).Select(mass => (mass.Column, mass.Row))];
        int count = known.Length;
        string other = basis == "gross" ? "litter" : "gross", firstOnly = $"basis-{(other == "gross" ? "first" : "last")}-with";
        bool hasLast = weighed.Any(mass => !mass.IsFirst);
        if (odd.Length == 0)
        {
            if (!TogetherFitOther([.. known.Select(mass => CampaignLots.OffBoth(mass.Lot, mass.Grams, basis))]))
                return null;
            string? all = _ask.Choose(Interview.Meaning, "basis-mean", [_ask.Option("as-stated", "basis-" + basis),
                _ask.Option("other", "basis-" + other), .. FirstAlone("first-other", firstOnly)],
                null, [.. known.Take(8).Select(mass => mass.Column.SeenAt(mass.Row))], count);
            return all == "other" ? MappingDraft.Value(other) : all == "first-other" ? Differing(weighed, other, basis) : null;
        }
        SeenCell[] seen = [.. odd.Take(8).Select(entry => entry.Column.SeenAt(entry.Row))];
        Choice[] choices = odd.Length == count ? [_ask.Option("odd", "basis-" + other), .. FirstAlone("odd-first", firstOnly)]
            : [_ask.Option("odd", "basis-odd-" + other), .. FirstAlone("odd-first", "basis-odd-first-" + other),
                _ask.Option("all", "basis-" + other), .. FirstAlone("all-first", firstOnly)];
        string? answer = _ask.Choose(Interview.Meaning, "basis-odd", [_ask.Option("as-stated", "basis-" + basis), .. choices],
            odd.Length == count ? Suggested(weighed) : null, seen, odd.Length, count);
        if (answer == "all" || (answer == "odd" && odd.Length == count))
            return MappingDraft.Value(other);
        if (answer == "all-first" || (answer == "odd-first" && odd.Length == count))
            return Differing(weighed, other, basis);
        if (answer == "odd-first")
        {
            table.Draft.Bags["mass_basis"] = MappingDraft.Value(basis);
            foreach (LitterRole? role in table.Roles)
            {
                foreach (AskedColumn column in odd.Select(entry => entry.Column).Distinct().Where(c => c == table.Of(ColumnChoice.Initial,
                    role)))
                {
                    int[] rows = [.. odd.Where(entry => entry.Column == column).Select(entry => entry.Row)];
                    new OneMassRemarks(table, masses).Take(role, column, row => rows.Contains(row) ? (other, basis) : null);
                }
            }
            return table.IsBurialRow ? null : (JsonObject)table.Draft.Bags["mass_basis"]!.DeepClone();
        }
        if (answer != "odd")
            return null;
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

        Choice[] FirstAlone(string value, string key) => hasLast ? [_ask.Option(value, key)] : [];
    }

    // the first masses one way and the last the other: the bag is taken off those that hold it
    private JsonObject? Differing(WeighedMass[] weighed, string first, string last) =>
        WithoutBags(weighed, weighed.ToDictionary(mass => mass, mass => mass.IsFirst ? first : last), 0)
            ? (JsonObject?)table.Draft.Bags["mass_basis"]?.DeepClone() : null;

    // litter alone grows no heavier in the soil: where a last mass is above such a first one, it holds the bag
    private string? Suggested(WeighedMass[] weighed) => weighed.Any(first => first.IsFirst && weighed.Any(last => !last.IsFirst
        && last.Role == first.Role && Enumerable.Range(0, table.Rows.Count).Any(row =>
            masses.Grams(last.Column, row) > masses.Grams(first.Column, row)))) ? "odd-first" : null;

    // masses that stand in each other's column are no other way of weighing
    private bool IsHeavierLast(LitterRole? role, int row, double first) => table.Of(ColumnChoice.Final, role) is { } final
        && masses.IsRead(final) && masses.Grams(final, row) > first;

    // A bag anywhere within the tolerance a has the standard deviation a/√3 (JCGM 100:2008, 4.3.7), the mean of n bags a/√(3n); asked
    // beyond √3 times that, which of one bag is the tolerance itself.
    private static bool TogetherFitOther((double Stated, double Other, double Tolerance)?[] off)
    {
        (double Stated, double Other, double Tolerance)[] all = [.. off.OfType<(double Stated, double Other, double Tolerance)>()];
        if (all.Length < FewestTogether || all.Length < off.Length)
            return false;
        double stated = Math.Abs(all.Average(one => one.Stated)), other = Math.Abs(all.Average(one => one.Other));
        return stated > all.Max(one => one.Tolerance) / Math.Sqrt(all.Length) && other < stated / 2;
    }

    /// <summary>Bags of which the mean tells something (common practice, no source).</summary>
    private const int FewestTogether = 4;

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
