using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>
/// Goes through a table as people make it, with what the campaign says and the answers so far: tells what it understood, asks what only the
/// sender knows, and when nothing is left to ask, writes the mapping by which the table is read. A pure function of its inputs.
/// </summary>
public static class SheetInquiry
{
    /// <summary>More rows than people make; the mapping of a part reads the whole.</summary>
    public const int MostRows = 50_000;

    /// <param name="path">A workbook or a table of text.</param>
    /// <param name="campaign">Null where none is known; then lots and protocol are asked.</param>
    /// <param name="answers">By <see cref="Question.Id"/>.</param>
    /// <param name="words">In the sender's language.</param>
    /// <param name="today">Bags were not dug up later than that.</param>
    /// <exception cref="ContributionException">The file cannot be read.</exception>
    public static Inquiry Of(string path, Campaign? campaign, IReadOnlyDictionary<string, string> answers, Phrases words,
        IntakeLimits limits,
        DateOnly today, TableWishes? wishes = null)
    {
        FileInfo file = new(path);
        ReadingTime time = new(limits.MaxSeconds, TimeProvider.System);
        FindingList findings = new(time);
        try
        {
            wishes ??= new TableWishes();
            TidyTable? tidy = TableLayout.Of([new ReceivedFiles().Add(file.Name, file)],
                new LayoutWishes(wishes.Sheet, wishes.HeaderRow, wishes.Separator, answers), words,
                limits with { MaxRows = Math.Min(limits.MaxRows, MostRows) }, findings);
            if (findings.Has(FindingCode.TooManyRows) && limits.MaxRows > MostRows)
            {
                return new Inquiry([], [], null,
                    [new Finding(FindingCode.TooManyRows, file.Name, Invariant($"more than {MostRows} rows"),
                        Invariant($"a table of at most {MostRows} rows to ask about"),
                        "answer for its first 1000 rows in a file of their own and keep that mapping; then name it like the whole table, "
                        + "TABLE.mapping.yaml, and give both, on the page or to check")]);
            }
            return tidy is null ? new Inquiry([], [], null, findings.Close(file.Name))
                : Of(file.Name, tidy, campaign, answers, words, today, wishes);
        }
        catch (ReadingTimeOverException)
        {
            return new Inquiry([], [], null, [time.Over(file.Name)]);
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            throw new ContributionException($"{file.Name} cannot be read: {StorageFault.Reason(fault)}.", fault);
        }
    }

    internal static Inquiry Of(string file, TidyTable tidy, Campaign? campaign, IReadOnlyDictionary<string, string> answers, Phrases words,
        DateOnly today, TableWishes wishes)
    {
        Interview ask = new(answers, words);
        ask.Tell(tidy.Told);
        ask.Pass(tidy.Readings);
        if (tidy.Rows.Count == 0)
            return new Inquiry(ask.Told, [], null, [Hopeless(file, "no-rows", words)]);
        if (HasFormulasAlone(tidy))
            return new Inquiry(ask.Told, [], null, [Hopeless(file, "formulas", words)]);
        AskedTable table = new(ask, tidy, campaign, today);
        Layout(table.Draft.File, tidy, answers, wishes);
        Expect(table.Draft.Expected, campaign);
        new PackageQuestions(table).Make(file);
        new RowQuestions(table).Make();
        ColumnChoice.Make(table);
        if (!ColumnChoice.IsOfBags(table))
        {
            string? hopeless = new ResultQuestions(table).Make();
            new UnreadColumns(table).Tell();
            return Closed(file, table, hopeless);
        }
        if (tidy.Told.Any(told => told.Code == "layout-weighings-apart"))
            return new Inquiry(ask.Told, [], null, [Hopeless(file, "weighings-apart", words)]);
        if (new AshQuestions(table).AreFree())
            return table.IsHopeless is { } why ? Closed(file, table, why) : new Inquiry(ask.Told, [ask.Open.First(IsOfAsh)], null, []);
        new RowQuestions(table).Leftovers();
        new ExampleRows(table).Make();
        new CopiedRows(table).Make();
        table.Draft.OneRowIs = table.IsBurialRow ? "burial" : "bag";
        if (!table.Roles.Any(role => table.Of(ColumnChoice.Initial, role) is not null))
            return new Inquiry(ask.Told, ask.Open, null, ask.Open.Count > 0 ? [] : [Hopeless(file, "no-weighings", words)]);
        new LotQuestions(table).Make();
        if (table.IsHopeless is null)
        {
            new IdQuestions(table).Make();
            new LineQuestions(table).Make();
            new Withdrawals(table).Make();
            new DateQuestions(table).Make();
            new DaysBeside(table).Make();
            MassReading masses = new MassQuestions(table).Make();
            new AdheringSoil(table).Make();
            new StateQuestions(table).Make();
            new FaultRemarks(table, masses).Make();
            new PlaceQuestions(table).Make();
            new PackageQuestions(table).OfAllBags();
            new UnreadColumns(table).Tell();
        }
        return Closed(file, table, table.IsHopeless);
    }

    // a column without a value that its file kept formulas of
    private static bool HasFormulasAlone(TidyTable tidy) => Enumerable.Range(0, tidy.Columns.Count).Any(column =>
        tidy.Rows.Count(row => row[column].Value.Kind == SheetCellKind.Formula) * 2 > tidy.Rows.Count);

    private static bool IsOfAsh(Question question) => question.Id == "ash-free";

    private static void Layout(JsonObject file, TidyTable tidy, IReadOnlyDictionary<string, string> answers, TableWishes wishes)
    {
        file["layout"] = "as-found";
        if (wishes.Sheet is { } sheet)
            file["sheet"] = sheet;
        if (wishes.Separator is { } separator)
            file["separator"] = MappingReader.Separators.First(known => known.Value == separator).Key;
        if (wishes.HeaderRow is { } row)
            file["header_row"] = row;
        JsonObject said = [];
        foreach (Question reading in tidy.Readings.Where(reading => answers.ContainsKey(reading.Id)))
            said[reading.Id] = answers[reading.Id];
        if (said.Count > 0)
            file["layout_answers"] = said;
    }

    // the days of the campaign, beside which those of the sheet are shown when it is checked
    private static void Expect(JsonObject expected, Campaign? campaign)
    {
        foreach ((string field, DayRange? days) in new[] { ("buried_on", campaign?.Bury), ("retrieved_on", campaign?.DigUp) })
        {
            if (days is not null)
                expected[field] = new JsonArray(LineQuestions.Shown(days.From), LineQuestions.Shown(days.To));
        }
    }

    private static Inquiry Closed(string file, AskedTable table, string? hopeless)
    {
        Interview ask = table.Ask;
        if (hopeless is not null)
            return new Inquiry(ask.Told, [], null, [Hopeless(file, hopeless, ask.Words)]);
        if (ask.Open.Count > 0)
            return new Inquiry(ask.Told, ask.Open, null, []);
        string mapping = table.Draft.Written(file, ask.Told.Select(told => told.Text), table.Columns.Select(column => column.Name));
        return new Inquiry(ask.Told, [], mapping, []);
    }

    private static Finding Hopeless(string file, string why, Phrases words) => new(FindingCode.TableOther, file,
        words[$"ask.hopeless.{why}"], words[$"ask.hopeless.{why}.expected"], words[$"ask.hopeless.{why}.mend"])
    { IsTranslated = true };
}
