using System.Collections.Concurrent;
using System.Text.Json;
using System.Text.RegularExpressions;
using DecayAtlas.Contributions.Tests.Judging;

namespace DecayAtlas.Contributions.Tests.Words;

/// <summary>What is said of the sheets and packages of these tests is read, as a sender of each language would: by what stands in the
/// sentences, not by their keys. That a language has a text for a key does not say that the text is used, or that nothing English is
/// beside it.</summary>
public partial class WhatSendersRead
{
    private static readonly string Sheets = Path.Combine(AppContext.BaseDirectory, "sheets");

    private static readonly string Torture = Path.Combine(AppContext.BaseDirectory, "torture");

    private static readonly DateOnly Today = new(2026, 11, 28);

    // read once; what is said of them is of a language
    private static readonly Lazy<CheckReport[]> Read = new(() => [.. Reports()]);

    private static readonly ConcurrentDictionary<string, string[]> Asked = [];

    public static TheoryData<string> Languages => new(SenderWords.Known);

    public static TheoryData<string> Translated => new(SenderWords.Known.Where(code => code != "en"));

    /// <summary>A spoilt example for every sentence that a package of tables can get.</summary>
    private static readonly (string File, string Old, string New)[] Spoilt =
    [
        ("bags.csv", ",4.12,1.94,", ",\"4,12\",1.94,"), ("bags.csv", ",4.12,1.94,", ",4.12 g,1.94,"),
        ("bags.csv", ",4.12,1.94,", ",,1.94,"), ("bags.csv", ",4.12,1.94,", ",-4.12,1.94,"),
        ("bags.csv", "mass_initial_g", "mass_inital_g"),
        ("bags.csv", ",plot,", ",site_id,"), ("bags.csv", ",plot,", ",,"), ("bags.csv", "fast", "schnell"),
        ("bags.csv", "meadow-1", "meadow-9"), ("bags.csv", "2024-08", "2024-13"), ("bags.csv", "2024-08", "2024/08"),
        ("bags.csv", "F-07", "F-09"), ("sites.csv", "decimal_latitude,", "latitude_of_the_place,"), ("sites.csv", "grassland", "Wiese"),
        ("sites.csv", ",no,", ",vielleicht,"), ("sites.csv", ",ZZ", ",Zz"), ("lots.csv", "0.30", "0,30"), ("lots.csv", "0.50", "0.95"),
        ("datapackage.json", "\"sites.csv\"", "\"../sites.csv\""), ("datapackage.json", "\"sites.csv\"", "\"orte.csv\""),
        ("datapackage.json", "\"revision\": 1", "\"revision\": \"one\""), ("datapackage.json", "{", "{{"),
        ("datapackage.json", "CC-BY-4.0", "CC-BY-NC-4.0"),
    ];

    [Theory]
    [MemberData(nameof(Translated))]
    public void No_word_of_English_stands_in_a_report_of_another_language(string code)
    {
        Phrases words = SenderWords.Find(code)!;
        string[] english = [.. All(words).Where(said => EnglishWord().IsMatch(Own(said))).Distinct()];
        Assert.True(english.Length == 0, string.Join('\n', english.Take(40)));
    }

    [Theory]
    [MemberData(nameof(Translated))]
    public void What_was_found_is_named_in_every_language(string code)
    {
        Phrases words = SenderWords.Find(code)!;
        string[] unnamed = [.. Read.Value.SelectMany(report => report.Result.Findings.Concat(report.Result.Warnings))
            .Where(finding => FindingWords.Found(finding, words) == words["found.other"]).Select(finding => finding.Found).Distinct()];
        Assert.True(unnamed.Length == 0, string.Join('\n', unnamed.Take(40)));
    }

    [Theory]
    [MemberData(nameof(Languages))]
    public void One_of_a_thing_is_one(string code)
    {
        Phrases words = SenderWords.Find(code)!;
        string[] plural = [.. All(words).Where(said => OneOfMany().IsMatch(Own(said))).Distinct()];
        Assert.True(plural.Length == 0, string.Join('\n', plural.Take(40)));
    }

    private static IEnumerable<string> All(Phrases words) =>
        OfChecks(words).Concat(Asked.GetOrAdd(words.Code, _ => [.. OfQuestions(words)]));

    private static IEnumerable<string> OfChecks(Phrases words) => Read.Value.SelectMany(report =>
    {
        CheckTelling telling = CheckTelling.Of(report, words);
        return new[] { telling.First }.Concat(telling.Then).Concat(telling.Facts.SelectMany(fact => new[] { fact.What, fact.Value }))
            // the first column is where: names of files and columns, which are the sender's
            .Concat(new[] { telling.Mend, telling.Look }.OfType<TellingTable>()
                .SelectMany(table => table.Rows.SelectMany(row => row.Skip(1))))
            .Concat(telling.Gate?.Rows.SelectMany(row => row.Take(3)) ?? []);
    });

    private static IEnumerable<CheckReport> Reports()
    {
        foreach ((string file, string old, string @new) in Spoilt)
        {
            using Example example = new();
            if (File.ReadAllText(example.FileAt(file)).Contains(old, StringComparison.Ordinal))
                yield return PlausibilityTests.Check(example.Replace(file, old, @new));
        }
        foreach (string folder in Directory.GetDirectories(Path.Combine(Torture, "package")))
        {
            using Example example = new();
            foreach (string file in Directory.GetFiles(folder))
                File.Copy(file, example.FileAt(Path.GetFileName(file)), overwrite: true);
            yield return PlausibilityTests.Check(example);
        }
        string[] single =
        [
            .. Directory.GetFiles(Path.Combine(Torture, "wide")).Where(file => !file.EndsWith(".yaml", StringComparison.Ordinal)),
            .. Directory.GetDirectories(Sheets).Select(FileIn),
        ];
        foreach (string file in single)
            yield return new CheckReport(Path.GetFileName(file), ContributionReader.Read(file, IntakeLimits.Default), Today);
    }

    /// <summary>Sheets of senders who do not write English, with each question answered by its first choice.</summary>
    private static IEnumerable<string> OfQuestions(Phrases words)
    {
        foreach (string folder in Directory.GetDirectories(Sheets))
        {
            if (Truth(folder, "language") == "en")
                continue;
            Dictionary<string, string> answers = [];
            Inquiry inquiry;
            while (true)
            {
                inquiry = FindingWords.Said(SheetInquiry.Of(FileIn(folder), null, answers, words, IntakeLimits.Default, Today), words);
                foreach (Question question in inquiry.Questions)
                {
                    yield return Bracketed().Replace(question.Text, "*");
                    yield return question.Why ?? "";
                    foreach (Choice choice in question.Choices.Where(_ => question.Id is not "licence"))
                        yield return choice.Text;
                }
                Question? next = inquiry.Questions.FirstOrDefault(question => !answers.ContainsKey(question.Id));
                if (next is null || answers.Count > 40)
                    break;
                answers[next.Id] = next.Suggested ?? (next.Choices.Count > 0 ? next.Choices[0].Value : null)
                    ?? (next.Kind == QuestionKind.Number ? "1" : next.Kind == QuestionKind.Day ? "2025-05-14" : "x-1");
            }
            foreach (Told told in inquiry.Told)
                yield return Bracketed().Replace(told.Text, "*");
            foreach (Finding finding in inquiry.Findings)
                yield return FindingWords.Sentence(finding, words)[finding.File.Length..];
        }
    }

    private static string FileIn(string folder) => Path.Combine(folder, Truth(folder, "file"));

    private static string Truth(string folder, string name)
    {
        using JsonDocument truth = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(folder, "truth.json")));
        return truth.RootElement.GetProperty(name).GetString()!;
    }

    /// <summary>Without what is quoted of the sender's, and without names of files.</summary>
    private static string Own(string said) => Quoted().Replace(said, "*");

    // what a question names is the sender's
    [GeneratedRegex(@"\([^()]*\)", RegexOptions.NonBacktracking)]
    private static partial Regex Bracketed();

    [GeneratedRegex(@"'[^']*'|“[^”]*”|„[^“]*“|«[^»]*»|\S+\.(yaml|csv|xlsx|json)", RegexOptions.NonBacktracking)]
    private static partial Regex Quoted();

    // words that none of the other three languages has
    [GeneratedRegex(@"\b(the|is|are|of|and|with|which|without|found|expected|write|cell|row|rows|from|this|your|not|must|missing)\b",
        RegexOptions.NonBacktracking | RegexOptions.IgnoreCase)]
    private static partial Regex EnglishWord();

    [GeneratedRegex(@"(^|[\s(:])1 (rows|columns|cells|bags|questions|sheets|lines|places|names|numbers|words|dates|values|notes|burials"
        + "|things|Zeilen|Spalten|Zellen|Fragen|Blätter|Orte|Zahlen|Worte|Daten|Werte|Anmerkungen|Vergrabungen|Punkte|Chargen"
        + "|filas|columnas|celdas|bolsas|preguntas|hojas|líneas|lugares|nombres|números|palabras|fechas|valores|notas|enterramientos|cosas"
        + "|lignes|colonnes|cellules|sachets|questions|feuilles|lieux|noms|nombres|mots|dates|valeurs|remarques|enfouissements|points)\\b",
        RegexOptions.NonBacktracking)]
    private static partial Regex OneOfMany();
}
