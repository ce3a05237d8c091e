using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>Finds out how days are written: the order of day and month, years that are short or missing, days that a spreadsheet turned
/// over. What the values leave open is asked, with what the campaign's days make likely.</summary>
internal sealed class DateQuestions(AskedTable table)
{
    private readonly Interview _ask = table.Ask;
    private readonly List<DayReading> _cells = [];

    // a text or typed day, and what it means where the rules of its column do not say it
    private readonly Dictionary<(AskedColumn, string), DateOnly> _exceptions = [];

    private bool _isDayFirst = true;
    private int? _year;
    private int _retrievedLater;

    private const int Century = 2000, YearsOffered = 10;

    public void Make()
    {
        (string Field, string Target)[] fields = [(ColumnChoice.Buried, "buried_on"), (ColumnChoice.Retrieved, "retrieved_on")];
        foreach ((string field, _) in fields)
        {
            AskedColumn[] columns = [.. table.Roles.Select(role => table.Of(field, role)).OfType<AskedColumn>().Distinct()];
            foreach (AskedColumn column in columns.Length == 0 && table.StatedDays.TryGetValue(field, out AskedColumn? stated)
                ? [stated] : columns)
            {
                _cells.AddRange(Enumerable.Range(0, table.Rows.Count)
                    .Where(i => column.TextAt(i).Length > 0 && !StateWords.IsNoValue(column.TextAt(i)))
                    .Select(i => DayReading.Of(column, i, field == ColumnChoice.Buried)));
            }
        }
        Serials();
        Years();
        Order();
        Turned();
        Strange();
        foreach ((string field, string target) in fields)
        {
            bool isAny = false;
            foreach (LitterRole? role in table.Roles)
            {
                if (table.Of(field, role) is not { } column || (role is not null && column == table.Of(field)))
                    continue;
                JsonObject source = Source(column, field == ColumnChoice.Buried);
                table.Draft.BagsOf(role)[target] = source;
                if (field == ColumnChoice.Retrieved)
                    NoDay(column, source);
                isAny = true;
            }
            if (table.Of(field) is { } common && table.IsBurialRow)
            {
                table.Draft.Bags[target] = Source(common, field == ColumnChoice.Buried);
                isAny = true;
            }
            if (!isAny && (field == ColumnChoice.Buried || table.Of(ColumnChoice.Days) is null))
                AskDay(field, target);
        }
        foreach (DayReading cell in _cells)
        {
            if (DayOf(cell) is { } day)
                (cell.IsBurial ? table.BuriedOn : table.RetrievedOn)[cell.Row] = day;
        }
    }

    private void AskDay(string field, string target)
    {
        if (table.StatedDays.TryGetValue(field, out AskedColumn? stated))
        {
            DateOnly?[] days = new DateOnly?[table.Rows.Count];
            foreach (DayReading cell in _cells.Where(cell => cell.Column == stated))
                days[cell.Row] = DayOf(cell);
            if (days.Any(day => day is not null)
                && LineQuestions.Source(table, [.. days.Select(LineQuestions.Shown)]) is { } source)
            {
                table.Draft.Bags[target] = source;
                return;
            }
        }
        if (field == ColumnChoice.Retrieved && !table.Chosen.Keys.Any(key =>
            key.Field is ColumnChoice.Final or ColumnChoice.Loss or ColumnChoice.Remaining))
        {
            return;
        }

        string? day = _ask.Enter(Interview.Values, field, QuestionKind.Day,
            answer => DateOnly.TryParseExact(answer, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _), null, []);
        if (day is null)
            return;
        table.Draft.Bags[target] = MappingDraft.Value(day);
        for (int row = 0; row < table.Rows.Count && field == ColumnChoice.Buried; row++)
            table.BuriedOn[row] = DateOnly.ParseExact(day, "yyyy-MM-dd", CultureInfo.InvariantCulture);
    }

    private JsonObject Source(AskedColumn column, bool isBurial)
    {
        JsonObject source = MappingDraft.Column(column);
        DayReading[] own = [.. _cells.Where(cell => cell.Column == column)];
        DayReading[] texts = [.. own.Where(cell => cell.Typed is null)];
        if (texts.Any(cell => cell.HasOrder))
            source["date_order"] = _isDayFirst ? "dmy" : "mdy";
        else if (table.Table.IsText && own.Length > 0 && own.All(cell => cell.Text.Length == 5 && cell.Text.All(char.IsAsciiDigit)))
            source["date_order"] = "serial-1900";
        if (texts.Any(cell => cell.Written is { Year: null }) && _year is { } year)
            source["year"] = year + (isBurial ? 0 : _retrievedLater);
        if (texts.Any(cell => cell.Written is { IsShortYear: true }))
            source["century"] = Century;
        List<(string, string)> words = [.. column.Distinct.Where(StateWords.IsNoValue).Select(word => (word, ""))];
        words.AddRange(own.Where(cell => cell.IsOfYear && DayOf(cell) is not null).Select(cell => (cell.Text, $"{DayOf(cell):yyyy-MM-dd}"))
            .Distinct());
        words.AddRange(_exceptions.Where(entry => entry.Key.Item1 == column).OrderBy(entry => entry.Key.Item2, StringComparer.Ordinal)
            .Select(entry => (entry.Key.Item2, $"{entry.Value:yyyy-MM-dd}")));
        if (words.Count > 0)
            source["words"] = MappingDraft.Words(words);
        return source;
    }

    private DateOnly? DayOf(DayReading cell) => _exceptions.TryGetValue((cell.Column, cell.Text), out DateOnly stated) ? stated
        : cell.Day(_isDayFirst, _year is null ? null : _year + (cell.IsBurial ? 0 : _retrievedLater), Century);

    // a table of text that kept the numbers of days only
    private void Serials()
    {
        DayReading[] serials = [.. _cells.Where(cell => cell.Typed is not null && DayReading.IsSerial(cell.Text))];
        if (serials.Length > 0 && table.Table.IsText && _ask.Choose(Interview.Values, "date-serial",
            [_ask.Option("yes", "date-serial-yes", serials[0].Text, _ask.Words.Day(serials[0].Typed)),
                _ask.Option("no", "date-serial-no")], "yes", Seen(serials), serials[0].Text) == "no")
        {
            table.IsHopeless = "dates";
        }
    }

    // bags without a day of digging up, where all others of their place have the same: lost ones are looked for with the others
    private void NoDay(AskedColumn column, JsonObject source)
    {
        if (table.IsBurialRow)
            return;
        AskedColumn? site = table.Of(ColumnChoice.Site);
        int[] without = [.. Enumerable.Range(0, table.Rows.Count).Where(row => column.TextAt(row).Length == 0)];
        if (without.Length == 0 || without.Length * 4 > table.Rows.Count)
            return;
        Dictionary<int, DayReading> cells = _cells.Where(cell => cell.Column == column).DistinctBy(cell => cell.Row)
            .ToDictionary(cell => cell.Row);
        Dictionary<string, DateOnly?[]> days = Enumerable.Range(0, table.Rows.Count).Except(without)
            .GroupBy(row => site?.TextAt(row) ?? "").ToDictionary(own => own.Key, own => own.Select(row =>
                cells.TryGetValue(row, out DayReading? cell) ? DayOf(cell) : null).Distinct().ToArray());
        if (!without.All(row => days.TryGetValue(site?.TextAt(row) ?? "", out DateOnly?[]? known) && known is [{ }]))
            return;
        string? answer = _ask.Choose(Interview.Values, "no-day", [_ask.Option("with-others", "no-day-with-others"),
            _ask.Option("still-buried", "no-day-still-buried")], "with-others", [.. without.Select(table.SeenRow)], without.Length);
        if (answer != "with-others")
            return;
        JsonObject of = site is null ? MappingDraft.Value($"{days[""][0]:yyyy-MM-dd}") : MappingDraft.Column(site);
        if (site is not null)
        {
            of["form"] = "listed";
            of["words"] = MappingDraft.Words(without.Select(site.TextAt).Distinct().Select(name => (name, $"{days[name][0]:yyyy-MM-dd}")));
        }
        source["or"] = new JsonArray(of);
    }

    private void Years()
    {
        DayReading[] without = [.. _cells.Where(cell => cell.Written is { Year: null })];
        if (without.Length > 0 && YearsOfNames(without))
        {
            _ask.Tell("date-year-of-name", without.Length, Seen(without), string.Join(", ", without.Select(cell => cell.Column.Name)
                .Distinct()));
        }
        else if (without.Length > 0)
        {
            int? likely = table.Campaign?.Bury?.From.Year ?? _cells.Select(cell => cell.Day(true, null, Century)?.Year)
                .FirstOrDefault(y => y is not null);
            string? suggested = likely is { } year ? Invariant($"{year}") : null;
            if (_ask.AnswerTo("date-year") is { } said && !CanBeYear(said))
            {
                _ask.OpenAs("date-year-other", Interview.Values, "date-year", QuestionKind.Choice,
                    [.. Enumerable.Range(0, YearsOffered).Select(ago => Invariant($"{table.Today.Year - ago}"))
                        .Select(offered => new Choice(offered, offered))], suggested, Seen(without), said,
                    Invariant($"{table.Today.Year}"));
            }
            else if (_ask.AnswerTo("date-year") is null && without.Length < _cells.Count)
            {
                _ask.OpenAs("date-year-some", Interview.Values, "date-year", QuestionKind.Number, [], suggested, Seen(without),
                    string.Join(", ", without.Select(cell => cell.Text).Distinct().Take(4)));
            }
            string? answer = _ask.Enter(Interview.Values, "date-year", QuestionKind.Number, CanBeYear, suggested, Seen(without));
            _year = answer is null ? likely : int.Parse(answer, CultureInfo.InvariantCulture);
        }
        // of another century no bag is; whether the last number is the year the campaign's days or the sender say
        DayReading[] shortYears = [.. _cells.Where(cell => cell.Written is { IsShortYear: true })];
        if (shortYears.Length == 0)
            return;
        bool isSure = shortYears.Any(cell => cell.Written!.IsNamed) || (table.Campaign is { Bury: not null }
            && shortYears.Count(cell => Fits(cell, true) || Fits(cell, false)) * 2 > shortYears.Length);
        if (isSure)
        {
            _ask.Tell("date-century", shortYears.Length, Seen(shortYears), shortYears[0].Text, Century
                + shortYears[0].Written!.Year!.Value is var y
                ? y.ToString(CultureInfo.InvariantCulture) : "");
        }
        else
        {
            string? answer = _ask.Choose(Interview.Values, "date-century",
                [_ask.Option("2000", "year-last", shortYears[0].Text, Invariant($"{Century + shortYears[0].Written!.Year}")),
                _ask.Option("other", "otherwise")], "2000", Seen(shortYears));
            if (answer == "other")
                table.IsHopeless = "dates";
        }
    }

    // the names of their columns have the year: buried (day of year 2026)
    private bool YearsOfNames(DayReading[] without)
    {
        int[] buried = Of(true), retrieved = Of(false);
        if (buried.Length > 1 || retrieved.Length > 1 || buried.Contains(0) || retrieved.Contains(0))
            return false;
        _year = buried.Length > 0 ? buried[0] : retrieved[0];
        _retrievedLater = retrieved.Length > 0 ? retrieved[0] - _year.Value : 0;
        return _retrievedLater is 0 or 1;

        int[] Of(bool isBurial) =>
            [.. without.Where(cell => cell.IsBurial == isBurial).Select(cell => YearIn(cell.Column.Name)).Distinct()];

        int YearIn(string name) => name.Split([' ', '(', ')', '[', ']', ',', '.', '_', '/', '-'], StringSplitOptions.RemoveEmptyEntries)
            .Where(CanBeYear).ToArray() is [var year] ? int.Parse(year, CultureInfo.InvariantCulture) : 0;
    }

    private bool CanBeYear(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int year)
        && year >= 1990 && year <= table.Today.Year;

    private void Order()
    {
        DayReading[] open = [.. _cells.Where(cell => cell.HasOrder)];
        if (open.Length == 0)
            return;
        bool canDay = open.All(cell => cell.CanBe(true)), canMonth = open.All(cell => cell.CanBe(false));
        (int byDay, int byMonth) = (open.Count(cell => Fits(cell, true)), open.Count(cell => Fits(cell, false)));
        if (canDay && canMonth && open.All(cell => cell.Written!.First == cell.Written.Second))
            return;
        if (canDay != canMonth)
        {
            _isDayFirst = canDay;
            DayReading telling = open.First(cell => !cell.CanBe(!canDay));
            if (canDay ? byDay >= byMonth : byMonth >= byDay)
            {
                _ask.Tell(canDay ? "day-first" : "month-first", open.Length, Seen([telling]), telling.Text);
                return;
            }
        }
        else if (!canDay)
        {
            // written in both ways: each cell that can be one only is that, and the rest is asked
            int onlyDay = open.Count(cell => cell.CanBe(true) && !cell.CanBe(false)),
                onlyMonth = open.Count(cell => cell.CanBe(false) && !cell.CanBe(true));
            _isDayFirst = onlyDay >= onlyMonth;
            DayReading[] others = [.. open.Where(cell => !cell.CanBe(_isDayFirst) && cell.CanBe(!_isDayFirst))];
            foreach (DayReading cell in others)
            {
                if (cell.Day(!_isDayFirst, _year, Century) is { } day)
                    _exceptions[(cell.Column, cell.Text)] = day;
            }
            _ask.Tell("date-other-order", others.Length, Seen(others));
            // where the common reading is out of the ordinary and the other is not, the sender of the row is likely to have kept his way
            DayReading[] doubtful = [.. open.Where(cell => cell.CanBe(true) && cell.CanBe(false)
                && cell.Written!.First != cell.Written.Second
                && !Fits(cell, _isDayFirst) && Fits(cell, !_isDayFirst))];
            if (doubtful.Length > 0 && _ask.Choose(Interview.Values, "date-turned", TurnedChoices(), "turned", Seen(doubtful)) is "turned")
            {
                foreach (DayReading cell in doubtful)
                    _exceptions[(cell.Column, cell.Text)] = cell.Day(!_isDayFirst, _year, Century)!.Value;
            }
            return;
        }
        if (EachColumnItsOwn(open))
            return;
        DayReading[] either = [.. open.Where(cell => cell.Written!.First != cell.Written.Second)];
        bool isAmerican = table.Group?.CountryCode is "US" || (_ask.Words.Code.StartsWith("en", StringComparison.Ordinal)
            && table.Group is null);
        bool likelyDay = byDay == byMonth ? !isAmerican || byDay > 0 : byDay > byMonth;
        string? answer = _ask.Choose(Interview.Values, "date-order",
            [_ask.Option("dmy", "day-first", Shown(either[0], true)), _ask.Option("mdy", "month-first", Shown(either[0], false))],
            byDay == byMonth && table.Campaign?.Bury is null ? null : likelyDay ? "dmy" : "mdy", Seen(either));
        _isDayFirst = answer is null ? likelyDay : answer == "dmy";
    }

    // days of burial fit in one order, and those of digging up in the other
    private bool EachColumnItsOwn(DayReading[] open)
    {
        DayReading[] buried = [.. open.Where(cell => cell.IsBurial)], retrieved = [.. open.Where(cell => !cell.IsBurial)];
        bool? ofBuried = Only(buried), ofRetrieved = Only(retrieved);
        if (ofBuried is not { } isDayFirst || ofRetrieved is not { } other || isDayFirst == other)
            return false;
        string? answer = _ask.Choose(Interview.Values, "date-order",
            [
                _ask.Option("each", "order-each", Shown(buried[0], isDayFirst), Shown(retrieved[0], other)),
                _ask.Option("dmy", "day-first", Shown(buried[0], true)), _ask.Option("mdy", "month-first", Shown(buried[0], false)),
            ],
            "each", Seen([buried[0], retrieved[0]]));
        _isDayFirst = answer is null or "each" ? isDayFirst : answer == "dmy";
        foreach (DayReading cell in answer is null or "each" ? retrieved : [])
            _exceptions[(cell.Column, cell.Text)] = cell.Day(other, _year, Century)!.Value;
        return true;

        bool? Only(DayReading[] cells) => cells.Length == 0 ? null
            : Array.TrueForAll(cells, cell => Fits(cell, true) && !Fits(cell, false)) ? true
            : Array.TrueForAll(cells, cell => Fits(cell, false) && !Fits(cell, true)) ? false : null;
    }

    private string Shown(DayReading cell, bool isDayFirst) =>
        $"{cell.Text} = {(cell.Day(isDayFirst, _year, Century) is { } day ? _ask.Words.Day(day) : "?")}";

    // days that a spreadsheet of another country took for its own: real days, whose other reading fits and whose own does not
    private void Turned()
    {
        DayReading[] typed = [.. _cells.Where(cell => cell.Typed is { } day && DayReading.Turned(day) is { } turned && turned != day)];
        bool isMixed = _cells.Any(cell => cell.HasOrder && Math.Max(cell.Written!.First, cell.Written.Second) > 12);
        DayReading[] odd = [.. typed.Where(cell => !FitsDay(cell, cell.Typed) && FitsDay(cell, DayReading.Turned(cell.Typed!.Value)))];
        if (isMixed && odd.Length > 0)
            odd = typed;
        if (odd.Length == 0)
            return;
        if (_ask.Choose(Interview.Values, "date-turned", TurnedChoices(), "turned", Seen(odd)) is not "as-is")
        {
            foreach (DayReading cell in odd)
                _exceptions[(cell.Column, cell.Text)] = DayReading.Turned(cell.Typed!.Value)!.Value;
        }
    }

    private Choice[] TurnedChoices() => [_ask.Option("turned", "turned"), _ask.Option("as-is", "not-turned")];

    private void Strange()
    {
        string[] strange = [.. _cells.Where(cell => cell.Typed is null && !_exceptions.ContainsKey((cell.Column, cell.Text))
            && DayOf(cell) is null
            && !(cell.Written is { Year: null } && _year is null)).Select(cell => cell.Text).Distinct()];
        foreach (string text in strange.Take(5))
        {
            DayReading[] own = [.. _cells.Where(cell => cell.Text == text)];
            string? day = _ask.Enter(Interview.Values, "date-text:" + text, QuestionKind.Day,
                answer => DateOnly.TryParseExact(answer, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _), null,
                    Seen(own), text);
            if (day is null)
                continue;
            foreach (DayReading cell in own)
                _exceptions[(cell.Column, text)] = DateOnly.ParseExact(day, "yyyy-MM-dd", CultureInfo.InvariantCulture);
        }
        // a year's end between the days
        if (_year is not null && _cells.Any(cell => !cell.IsBurial && cell.Written is { Year: null }))
        {
            Dictionary<int, DateOnly> buried = [];
            foreach (DayReading cell in _cells.Where(cell => cell.IsBurial))
            {
                if (DayOf(cell) is { } day)
                    buried[cell.Row] = day;
            }
            DayReading[] retrieved = [.. _cells.Where(cell => !cell.IsBurial && buried.ContainsKey(cell.Row) && DayOf(cell) is not null)];
            if (retrieved.Length > 0 && retrieved.All(cell => DayOf(cell) < buried[cell.Row]))
            {
                _retrievedLater = 1;
                _ask.Tell("date-next-year", retrieved.Length, Seen(retrieved), (_year + 1).Value.ToString(CultureInfo.InvariantCulture));
            }
        }
    }

    private bool Fits(DayReading cell, bool isDayFirst) => FitsDay(cell, cell.Day(isDayFirst, _year, Century));

    // within the campaign's days, or where it has none within what is usual beside the other day of the row
    private bool FitsDay(DayReading cell, DateOnly? day)
    {
        if (day is not { } d || d > table.Today || d.Year < 1990)
            return false;
        DayRange? window = cell.IsBurial ? table.Campaign?.Bury : table.Campaign?.DigUp;
        if (window is not null)
            return d >= window.From.AddDays(-ExpectedDays.Slack) && d <= window.To.AddDays(ExpectedDays.Slack);
        DateOnly[] others = [.. _cells.Where(other => other.Row == cell.Row && other.IsBurial != cell.IsBurial)
            .SelectMany(other => new[] { other.Day(true, _year, Century), other.Day(false, _year, Century) }).OfType<DateOnly>()];
        return others.Length == 0 || others.Any(other => Math.Sign(d.DayNumber - other.DayNumber) == (cell.IsBurial ? -1 : 1)
            && Math.Abs(d.DayNumber - other.DayNumber) is >= 20 and <= 400);
    }

    private static IReadOnlyList<SeenCell> Seen(IEnumerable<DayReading> cells) =>
        [.. cells.DistinctBy(cell => (cell.Column, cell.Text)).Take(10).Select(cell => cell.Column.SeenAt(cell.Row))];
}
