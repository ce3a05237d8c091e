namespace DecayAtlas.Cli.Reporting;

/// <summary>What a check tells on a terminal: the answer, what to do, and the rest.</summary>
internal static class CheckScreen
{
    // those of a class
    private const int MostResults = 15;

    /// <summary>Shows it all; where a person sits there, asks whether what is unusual is right.</summary>
    public static CheckReport Show(CheckReport check, Phrases words, Screen screen)
    {
        CheckTelling telling = CheckTelling.Of(check, words);
        screen.Line($"{check.Source}: {telling.First}");
        screen.Lines(telling.Then);
        if (telling.Mend is { } mend)
            Show(mend, words, screen);
        Table(telling.Gate, words, screen);
        Table(telling.Results, words, screen);
        if (telling.Look is { } look)
        {
            screen.Line("");
            screen.Line($"{look.Caption}. {words["answer.look.text"]}");
            Rows(look, words, screen);
        }
        screen.Line("");
        int width = telling.Facts.Max(fact => fact.What.Length);
        screen.Lines(telling.Facts.Select(fact => $"  {fact.What.PadRight(width)}  {fact.Value}"));
        if (check.IsValid && check.ToConfirm.Count > 0)
        {
            bool? isRight = screen.Ask(words["gate.ask"], words["gate.yes"], words["gate.no"]);
            if (isRight is null)
                screen.Line(words["gate.how"]);
            check = check with { IsConfirmed = isRight is true };
        }
        if (check.IsReady)
            screen.Line(words.Say("answer.valid", check.Source));
        return check;
    }

    private static void Show(TellingTable table, Phrases words, Screen screen)
    {
        screen.Line("");
        screen.Line(table.Caption);
        Rows(table, words, screen);
    }

    // a sentence of place, found, expected and mend is too wide for columns
    private static void Rows(TellingTable table, Phrases words, Screen screen)
    {
        foreach (string line in table.Lines)
            screen.Line("- " + line);
    }

    private static void Table(TellingTable? table, Phrases words, Screen screen)
    {
        if (table is null)
            return;
        screen.Line("");
        screen.Line(table.Caption);
        screen.Table([.. table.Head], table.Rows.Take(MostResults).Select(row => row.Select(cell =>
            ReceivedText.OneLine(cell, ' ')).ToArray()));
        if (table.Rows.Count > MostResults)
            screen.Line("  " + words.Say("answer.more", table.Rows.Count - MostResults));
    }
}
