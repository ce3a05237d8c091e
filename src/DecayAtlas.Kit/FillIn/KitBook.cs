using System.Globalization;

namespace DecayAtlas.Kit.FillIn;

/// <summary>The workbook of a kit, <c>sheet.xlsx</c>: a guide, places, holes, the group, and what the program reads them by.</summary>
internal sealed class KitBook
{
    public const string FileName = "sheet.xlsx";

    // rows of the sheets of places and holes
    private const int TitleRow = 1, HeadRow = 3, ExampleRow = 4, FirstRow = 5;
    private const int PlaceRows = 12;

    private static readonly DateOnly Earliest = new(1990, 1, 1), Latest = new(2100, 12, 31);

    private readonly GroupKit _kit;
    private readonly Phrases _words;
    private readonly List<string[]> _facts = [];

    // where words to choose from stand on the sheet for the program, by field
    private readonly Dictionary<string, (int First, int Last)> _lists = [];

    private KitBook(GroupKit kit) => (_kit, _words) = (kit, kit.Words);

    public static byte[] Write(GroupKit kit)
    {
        KitBook book = new(kit);
        book.StateFacts();
        return FormBook.Write([book.Guide(), book.Places(), book.Holes(), book.About(), book.Facts()], kit.Paper);
    }

    private void StateFacts()
    {
        Fact(KitForm.OfVersion, KitForm.Version);
        Fact(KitForm.OfLanguage, _words.Code);
        Days(KitForm.Bury, _kit.Campaign.Bury);
        Days(KitForm.DigUp, _kit.Campaign.DigUp);
        foreach (string key in new[] { KitForm.Places, KitForm.Holes, KitForm.About })
            Fact(KitForm.OfSheet, key, NameOf(key));
        Fact(KitForm.OfPackage, "name", KitForm.NameOf(_kit.Campaign.Id, _kit.Group.Id));
        Fact(KitForm.OfPackage, "title", $"{_kit.Title}{_words.Colon}{_kit.GroupTitle}");
        Fact(KitForm.OfPackage, "contributor", _kit.Group.Id);
        Fact(KitForm.OfPackage, "campaign", _kit.Campaign.Id);
        Fact(KitForm.OfPackage, "protocol", _kit.Campaign.Protocol);
        Fact(KitForm.OfPackage, "licence", _kit.Campaign.Licence ?? "CC-BY-4.0");
        foreach (IReadOnlyDictionary<string, string> lot in new[] { _kit.Fast, _kit.Slow })
        {
            Fact(KitForm.OfLot, lot["role"], "lot_id", lot["lot_id"]);
            foreach ((string field, string value) in lot.Where(entry => entry.Key != "lot_id"))
                Fact(KitForm.OfLot, lot["role"], field, value);
        }

        if (_kit.Group.CountryCode is { } country)
            Fact(KitForm.OfSites, "country_code", country);
        foreach ((string field, string value) in _kit.Campaign.Bags)
            Fact(KitForm.OfBags, field, value);
        foreach ((string word, string meant) in _kit.Campaign.Words)
            Fact(KitForm.OfWord, KitForm.AnyField, word, meant);
        Words("condition", SchemaCatalogue.Bags, "kit.word.condition.");
        Words("ecosystem", SchemaCatalogue.Sites, "kit.word.ecosystem.");
        Words("land_use", SchemaCatalogue.Sites, "kit.word.land_use.");
        List("coordinates_sensitive", [("no", _words["kit.word.no"]), ("yes", _words["kit.word.yes"])]);
        List("treatment", [.. _kit.Campaign.Treatments.Select(treatment => (treatment.Plain, treatment.In(_words.Code)))]);
    }

    private void Words(string field, TableSchema table, string key) =>
        List(field, [.. table.Fields[table.OrdinalOf(field)].Choices.Select(word => (word, _words[key + word]))]);

    private void List(string field, IReadOnlyList<(string Word, string Shown)> words)
    {
        if (words.Count == 0)
            return;
        _lists[field] = (_facts.Count + 1, _facts.Count + words.Count);
        foreach ((string word, string shown) in words)
            Fact(KitForm.OfWord, field, shown, word);
    }

    private void Days(string key, DayRange? days)
    {
        if (days is not null)
            Fact(KitForm.OfDays, key, Invariant($"{days.From:yyyy-MM-dd}"), Invariant($"{days.To:yyyy-MM-dd}"));
    }

    private void Fact(params string[] values) => _facts.Add(values);

    private string NameOf(string key) => _words[$"kit.sheet.{key}"];

    private string HeadOf(KitColumn column) => _words[$"kit.column.{column.Key}"];

    private FormSheet Facts() => new(KitForm.Sheet, [14, 24, 28, 60],
        [.. _facts.SelectMany((values, i) => values.Select((value, column) => new FormCell(column, i + 1, value, CellStyle.Plain)))])
    {
        IsHidden = true,
    };

    private FormSheet Guide()
    {
        string[] steps =
        [
            _words["kit.guide.1"], _words.Say("kit.guide.2", NameOf(KitForm.Places)), _words.Say("kit.guide.3", NameOf(KitForm.Holes)),
            _words.Say("kit.guide.about", NameOf(KitForm.About)), _words["kit.guide.4"], _words["kit.guide.5"],
            _words.Say("kit.guide.check", CheckInOneFile.IsThere ? CheckInOneFile.FileName : _words["drop.title"]),
            _words.Say("kit.guide.6", _kit.HandIn),
        ];
        List<FormCell> cells = [new(0, 1, $"{_kit.Title}{_words.Colon}{_kit.GroupTitle}", CellStyle.Title)];
        int row = 3;
        Dictionary<int, double> heights = [];
        List<string> merged = ["A1:B1"];
        foreach ((int i, string step) in steps.Index())
        {
            cells.Add(new(0, row, Invariant($"{i + 1}.  {step}"), CellStyle.Text));
            merged.Add(Invariant($"A{row}:B{row}"));
            heights[row] = step.Length > 85 ? 18 * Math.Ceiling(step.Length / 85.0) : 18;
            row++;
        }

        cells.Add(new(0, row + 1, _words["kit.protocol"], CellStyle.Head));
        cells.Add(new(1, row + 1, "", CellStyle.Head));
        merged.Add(Invariant($"A{row + 1}:B{row + 1}"));
        row += 2;
        foreach ((string what, string said) in _kit.Protocol)
        {
            cells.Add(new(0, row, what, CellStyle.Fixed));
            cells.Add(new(1, row, said, CellStyle.Fixed));
            row++;
        }

        return new FormSheet(NameOf("guide"), [38, 62], cells) { Merged = merged, Heights = heights };
    }

    private FormSheet Places()
    {
        KitColumn[] columns = [.. KitForm.PlaceColumns];
        int last = FirstRow + PlaceRows - 1;
        Dictionary<string, object?> example = new()
        {
            ["place-name"] = _words["kit.example.place"],
            ["latitude"] = 12.34567,
            ["longitude"] = -45.67891,
            ["exactness"] = 10,
            ["hide"] = _words["kit.word.no"],
            ["ecosystem"] = _words["kit.word.ecosystem.grassland"],
            ["land-use"] = _words["kit.word.land_use.pasture"],
            ["place-notes"] = _words["kit.example.remark"],
        };
        Fact(KitForm.OfExample, KitForm.Places, _words["kit.example.place"]);
        return Grid(KitForm.Places, columns, example, PlaceRows,
            (_, _) => null,
            column => column.Key switch
            {
                "latitude" => Number(-90, 90),
                "longitude" => Number(-180, 180),
                "exactness" => Number(0.01, 100_000),
                "hide" or "ecosystem" or "land-use" => Choice(column.Field),
                _ => null,
            },
            column => column.Key switch
            {
                "ecosystem" or "land-use" => _words["kit.note.word"],
                "place-notes" => _words["kit.note.remarks"],
                _ => _words[$"kit.note.{column.Key}"],
            },
            [32, 13, 13, 11, 14, 20, 22, 34], last);
    }

    private FormSheet Holes()
    {
        KitColumn[] columns =
        [
            .. KitForm.HoleColumns.Where(column => column.Field switch
            {
                "treatment" => _kit.Campaign.Treatments.Count > 0,
                _ => true,
            }),
        ];
        Fact(KitForm.OfExample, KitForm.Holes, _words["kit.example"]);
        DateOnly buried = _kit.Campaign.Bury?.From ?? new DateOnly(2025, 4, 14), dug = _kit.Campaign.DigUp?.From ?? buried.AddDays(90);
        (double fast, double slow) = (StartOf(_kit.Fast), StartOf(_kit.Slow));
        Dictionary<string, object?> example = new()
        {
            ["hole"] = _words["kit.example"],
            ["place"] = _words["kit.example.place"],
            ["buried"] = buried,
            ["dug"] = dug,
            ["fast-before"] = fast,
            ["fast-after"] = Math.Round(0.6 * fast, 2),
            ["fast-state"] = _words["kit.word.condition.intact"],
            ["slow-before"] = slow,
            ["slow-after"] = Math.Round(0.8 * slow, 2),
            ["slow-state"] = _words["kit.word.condition.roots"],
            ["treatment"] = _kit.Campaign.Treatments is [var first, ..] ? first.In(_words.Code) : null,
            ["depth"] = _kit.Depth ?? 10,
            ["notes"] = _words["kit.example.remark"],
        };
        int[] numbers = [.. _kit.HoleNumbers];
        string basis = _kit.IsGross ? "gross" : "litter", places = NameOf(KitForm.Places);
        return Grid(KitForm.Holes, columns, example, numbers.Length,
            (column, i) => column.Key == "hole" ? numbers[i] : null,
            column => column.Key switch
            {
                "place" => new EntryRule("", EntryKind.List, FormBook.RangeOf(places, 0, FirstRow, FirstRow + PlaceRows - 1), null,
                    _words["kit.wrong.title"], _words.Say("kit.wrong.place", places)),
                "buried" or "dug" => Day(),
                "fast-before" or "fast-after" => Mass(_kit.Fast),
                "slow-before" or "slow-after" => Mass(_kit.Slow),
                "fast-state" or "slow-state" or "treatment" => Choice(column.Field),
                "depth" => Number(0, 100),
                _ => null,
            },
            column => column.Key switch
            {
                "place" => _words.Say("kit.note.place", places),
                "buried" or "dug" => _words["kit.note.day"],
                "fast-before" or "slow-before" => _words[$"kit.note.before.{basis}"],
                "fast-after" or "slow-after" => _words[$"kit.note.after.{basis}"],
                "fast-state" or "slow-state" => _words["kit.note.state"],
                "treatment" => _words["kit.note.word"],
                "notes" => _words["kit.note.remarks"],
                "depth" when _kit.Depth is { } depth => _words.Say("kit.note.depth.said", _words.Number(depth)),
                _ => _words[$"kit.note.{column.Key}"],
            },
            [10, 26, 13, 13, 11, 11, 14, 11, 11, 14, .. columns.Skip(10).Select(c => c.Key == "notes" ? 34.0 : 14.0)],
            FirstRow + numbers.Length - 1);
    }

    private FormSheet About()
    {
        List<FormCell> cells = [new(0, 1, $"{_kit.Title}{_words.Colon}{_kit.GroupTitle}", CellStyle.Title)];
        List<EntryRule> rules = [];
        foreach ((int i, KitColumn line) in KitForm.AboutLines.Index())
        {
            Fact(KitForm.OfColumn, KitForm.About, line.Key, HeadOf(line));
            EntryRule? rule = line.Key switch
            {
                "revision" => Number(1, ContributionHeader.HighestRevision) with { Kind = EntryKind.Whole },
                "balance" => Number(0.0001, 10),
                _ => null,
            };
            object? begun = line.Key == "revision" ? 1 : line == KitForm.Balance ? _kit.BalanceGrams : null;
            cells.Add(new(0, 3 + i, HeadOf(line), CellStyle.Head));
            cells.Add(new(1, 3 + i, begun, rule is null ? CellStyle.InputText : CellStyle.InputNumber));
            cells.Add(new(2, 3 + i, _words[rule is null ? "kit.note.contact" : $"kit.note.{line.Key}"], CellStyle.Text));
            if (rule is not null)
                rules.Add(rule with { Range = FormBook.At(1, 3 + i) });
        }

        return new FormSheet(NameOf(KitForm.About), [38, 40, 70], cells)
        {
            Merged = ["A1:C1"],
            Rules = rules,
        };
    }

    private FormSheet Grid(string key, KitColumn[] columns, Dictionary<string, object?> example, int rows,
        Func<KitColumn, int, object?> valueOf, Func<KitColumn, EntryRule?> ruleOf, Func<KitColumn, string> noteOf, double[] widths,
        int last)
    {
        List<FormCell> cells = [new(0, TitleRow, $"{_kit.GroupTitle}{_words.Colon}{NameOf(key)}", CellStyle.Title)];
        List<EntryRule> rules = [];
        List<CellNote> notes = [];
        foreach ((int i, KitColumn column) in columns.Index())
        {
            Fact(KitForm.OfColumn, key, column.Key, HeadOf(column));
            cells.Add(new(i, HeadRow, HeadOf(column), CellStyle.Head));
            cells.Add(new(i, ExampleRow, example[column.Key], example[column.Key] is DateOnly ? CellStyle.ExampleDay : CellStyle.Example));
            EntryRule? rule = ruleOf(column);
            CellStyle style = column.Key == "hole" ? CellStyle.Fixed
                : rule?.Kind switch
                {
                    null or EntryKind.List => CellStyle.InputText,
                    EntryKind.Day => CellStyle.InputDay,
                    _ => CellStyle.InputNumber,
                };
            cells.AddRange(Enumerable.Range(0, rows).Select(row => new FormCell(i, FirstRow + row, valueOf(column, row), style)));
            if (rule is not null)
                rules.Add(rule with { Range = $"{FormBook.At(i, FirstRow)}:{FormBook.At(i, last)}" });
            notes.Add(new CellNote(FormBook.At(i, HeadRow), noteOf(column)));
        }

        return new FormSheet(NameOf(key), widths, cells)
        {
            Rules = rules,
            Notes = notes,
            FrozenRows = HeadRow,
            IsLandscape = true,
            Heights = new Dictionary<int, double> { [TitleRow] = 26, [HeadRow] = 36 },
        };
    }

    // what a bag weighs before burial, as far as the lot's sheet says
    private double StartOf(IReadOnlyDictionary<string, string> lot) =>
        Math.Round(ValueOf(lot, "litter_mass_nominal_g", 3) + (_kit.IsGross ? ValueOf(lot, "tare_g", 0) : 0), 2);

    private static double ValueOf(IReadOnlyDictionary<string, string> lot, string field, double other) =>
        lot.TryGetValue(field, out string? text) ? double.Parse(text, CultureInfo.InvariantCulture) : other;

    // ten times what it should weigh takes in any bag and no milligrams
    private EntryRule Mass(IReadOnlyDictionary<string, string> lot)
    {
        double most = lot.ContainsKey("litter_mass_nominal_g") ? Math.Ceiling(10 * StartOf(lot)) : 1000;
        return Number(0, most) with { Wrong = _words.Say("kit.wrong.mass", _words.Number(most, "0")) };
    }

    private EntryRule Number(double least, double most) => new("", EntryKind.Number, least.ToString(CultureInfo.InvariantCulture),
        most.ToString(CultureInfo.InvariantCulture), _words["kit.wrong.title"],
        _words.Say("kit.wrong.number", _words.Number(least), _words.Number(most, "0")));

    private EntryRule Day() => new("", EntryKind.Day, FormBook.SerialOf(Earliest).ToString(CultureInfo.InvariantCulture),
        FormBook.SerialOf(Latest).ToString(CultureInfo.InvariantCulture), _words["kit.wrong.title"],
        _words.Say("kit.wrong.day", _words.Day(Earliest), _words.Day(Latest)));

    private EntryRule? Choice(string field) => _lists.TryGetValue(field, out (int First, int Last) rows)
        ? new EntryRule("", EntryKind.List, FormBook.RangeOf(KitForm.Sheet, 2, rows.First, rows.Last), null, _words["kit.wrong.title"],
            _words["kit.wrong.list"])
        : null;
}
