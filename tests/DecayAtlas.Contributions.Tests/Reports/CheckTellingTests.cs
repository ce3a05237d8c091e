using System.Text.RegularExpressions;
using DecayAtlas.Contributions.Tests.Judging;

namespace DecayAtlas.Contributions.Tests.Reports;

/// <summary>Answers first: what a group gets, then what to do, then the rest, in the language of the sender.</summary>
public partial class CheckTellingTests
{
    public static TheoryData<string> Languages => new(SenderWords.Known);

    [Fact]
    public void The_first_line_says_what_the_group_gets()
    {
        using Example example = new();

        CheckTelling telling = Tell(example);

        Assert.StartsWith("3 of 4 burials give a result", telling.First, StringComparison.Ordinal);
        // one of the example's bags came up with roots in it
        Assert.Equal(
        [
            "Of these at most 2 of 3 count in the atlas as they stand.",
            "May not count: wood-1-1 (a bag came up torn or with roots in it).",
            "No result from 1 (wood-1-2): a bag was lost. Nothing to mend there: that happens, and it is worth knowing.",
        ], telling.Then);
        Assert.Null(telling.Mend);
    }

    [Theory]
    [InlineData("en", "Is it 3.84 g? Then correct the decimal sign.")]
    [InlineData("de", "Sind es 3,84 g? Dann berichtigt das Dezimalzeichen.")]
    [InlineData("es", "¿Son 3,84 g? Entonces corrija el signo decimal.")]
    [InlineData("fr", "Est-ce 3,84 g ? Alors corrigez le signe décimal.")]
    public void A_weight_that_was_meant_is_written_as_the_language_writes_numbers(string language, string told) => Assert.Equal(told,
        FindingWords.ToDo(new Finding(FindingCode.MassTenfold, "bags.csv", 5, "mass_initial_g", "38.40 g", "about 3.80 g",
            "is it 3.84 g? Then correct the decimal sign"), SenderWords.Find(language)!).Replace('\u202F', ' ').Replace('\u00A0', ' '));

    [Fact]
    public void Without_an_empty_weight_it_says_so_and_what_to_do()
    {
        using Example example = new Example().Replace("lots.csv", "4,0.30,0.50,0.02", "4,0.30,,").Replace("lots.csv",
            "3.6,0.30,0.50,0.02", "3.6,0.30,,");

        CheckTelling telling = Tell(example);

        Assert.Equal("Readable, but no result yet: the empty weight of the bag is missing.", telling.First);
        Assert.StartsWith("Weigh some empty bags", telling.Then[0], StringComparison.Ordinal);
    }

    [Fact]
    public void That_no_burial_gives_a_result_goes_before_what_is_unusual()
    {
        using Example example = new Example().Replace("lots.csv", "4,0.30,0.50,0.02", "4,0.30,,").Replace("lots.csv",
            "3.6,0.30,0.50,0.02", "3.6,0.30,,").Replace("bags.csv", "2024-08-13", "2025-08-13");

        CheckTelling telling = Tell(example);

        Assert.StartsWith("Readable, but no result yet", telling.First, StringComparison.Ordinal);
        Assert.StartsWith("Before you send", telling.Then[0], StringComparison.Ordinal);
    }

    // what is unusual of a sheet that is mended first is shown, and nobody is asked to confirm it yet
    [Fact]
    public void What_is_unusual_is_confirmed_once_all_is_mended()
    {
        using Example odd = new Example().Replace("bags.csv", ",4.12,1.94,", ",4.12,0.62,"),
            slip = new Example().Replace("bags.csv", ",4.12,1.94,", ",4.12,0.62,").Replace("bags.csv", "2024-08-13", "2024/08/13");

        Assert.Equal("Please confirm: what was read, beside what is usual", Tell(odd).Gate!.Caption);
        Assert.Equal("What was read, beside what is usual; it is confirmed once all is mended", Tell(slip).Gate!.Caption);
    }

    [Fact]
    public void A_place_is_called_as_its_group_calls_it()
    {
        using Example example = new();

        string[] places = [.. Tell(example).Results!.Rows.Select(row => row[1]).Distinct()];

        Assert.Equal(["Upper meadow", "wood-1"], places);
    }

    [Theory]
    [InlineData("en", "more than 50000 rows", "A table of at most 50000 rows to ask about",
        "Answer for its first 1000 rows in a file of their own")]
    [InlineData("de", "mehr als 50000 Zeilen", "eine Tabelle mit höchstens 50000 Zeilen",
        "Beantwortet die Fragen für die ersten 1000 Zeilen")]
    public void A_table_of_too_many_rows_to_ask_about_is_told_what_to_do_on_the_page_and_in_a_terminal(
        string language, string found, string expected, string mend)
    {
        string file = Path.Combine(Path.GetTempPath(), $"decayatlas-{Guid.NewGuid():N}.csv");
        File.WriteAllText(file, "Beutel;leer\n" + string.Concat(Enumerable.Repeat("1;2\n", SheetInquiry.MostRows + 1)));
        Phrases words = SenderWords.Find(language)!;

        Finding finding = Assert.Single(FindingWords.Said(SheetInquiry.Of(file, null, new Dictionary<string, string>(), words,
            IntakeLimits.Default, new DateOnly(2026, 11, 28)), words).Findings);
        File.Delete(file);

        Assert.Equal(found, finding.Found);
        Assert.StartsWith(expected, finding.Expected, StringComparison.OrdinalIgnoreCase);
        Assert.StartsWith(mend, finding.Mend, StringComparison.OrdinalIgnoreCase);
        Assert.Contains(".mapping.yaml", finding.Mend, StringComparison.Ordinal);
        Assert.DoesNotContain("--mapping", finding.Mend, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_slip_in_many_rows_is_one_thing_to_mend()
    {
        using Example example = new();
        File.WriteAllLines(example.FileAt("bags.csv"), File.ReadAllLines(example.FileAt("bags.csv"))
            .Select((line, i) => i == 0 ? line : line.Replace("2024-08-1", "1.8.2024-", StringComparison.Ordinal)));

        CheckTelling telling = Tell(example);

        Assert.Equal("Not ready to send: one thing to mend first.", telling.First);
        IReadOnlyList<string> row = Assert.Single(telling.Mend!.Rows);
        Assert.Equal("bags.csv, rows 2–7, 9, column retrieved_on", row[0]);
        Assert.EndsWith("'1.8.2024-2' (rows 2–5), '1.8.2024-3' (rows 6–7, 9)", row[1], StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_unusual_comes_before_what_is_well()
    {
        using Example example = new Example().Replace("sites.csv", "47.31025,-11.20417,15,no,ZZ", "47.31025,-11.20417,15,no,");

        CheckTelling telling = Tell(example);

        Assert.Equal("Before you send: one line is unusual, please look at the table.", telling.First);
        Assert.Contains("look at the place “Upper meadow”", telling.Gate!.Rows.Single(
            row => row[0].StartsWith("places on land", StringComparison.Ordinal))[3], StringComparison.Ordinal);
        Assert.StartsWith("3 of 4 burials give a result",
            CheckTelling.Of(PlausibilityTests.Check(example) with { IsConfirmed = true }, SenderWords.Find("en")!).First,
            StringComparison.Ordinal);
    }

    [Fact]
    public void What_cannot_be_read_is_told_as_that_in_the_first_sentence()
    {
        using Example example = new();
        string picture = Path.Combine(example.Root, "photo.xls");
        File.WriteAllBytes(picture, [0xFF, 0xD8, 0xFF, 0xE0, 0, 16]);

        CheckTelling telling = CheckTelling.Of(
            new CheckReport("photo.xls", ContributionReader.Read(picture, IntakeLimits.Default), Example.Today), SenderWords.Find("en")!);

        Assert.StartsWith("This can't be read as a contribution: ", telling.First, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Languages))]
    public void Every_reason_and_every_line_of_the_gate_has_words(string code)
    {
        Phrases words = SenderWords.Find(code)!;

        Assert.All(Enum.GetValues<MissingReason>().Select(reason => reason.Code()).Append(CheckedBurial.BagLost), reason =>
        {
            Assert.NotEmpty(words["answer.because." + reason]);
            Assert.NotEmpty(words["answer.todo." + reason]);
        });
    }

    /// <summary>No word of the sender's report is left in another language: German, Spanish and French reports of a spoilt example hold
    /// none of the English sentences.</summary>
    [Theory]
    [MemberData(nameof(Languages))]
    public void A_report_is_of_one_language(string code)
    {
        using Example example = new Example().Replace("bags.csv", ",4.12,", ",\"4,12\",").Replace("sites.csv", "grassland", "Wiese");
        Phrases words = SenderWords.Find(code)!;
        string html = PlausibilityTests.Check(example).ToHtml(words);

        Assert.Contains($"<html lang=\"{code}\">", html, StringComparison.Ordinal);
        if (code != "en")
            Assert.DoesNotMatch(EnglishWords(), html[html.IndexOf("<main>", StringComparison.Ordinal)..]);
    }

    private static CheckTelling Tell(Example example) => CheckTelling.Of(PlausibilityTests.Check(example), SenderWords.Find("en")!);

    [GeneratedRegex(@"\b(the|with|expected|write|instead|burial is|of these)\b", RegexOptions.NonBacktracking)]
    private static partial Regex EnglishWords();
}
