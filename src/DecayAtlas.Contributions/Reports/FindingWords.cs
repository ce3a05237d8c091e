using System.Globalization;

namespace DecayAtlas.Contributions.Reports;

/// <summary>What a finding says to everybody: where, what was expected, what to do, in the words of a language, which are chosen by the
/// code and by what the schema says of the column. Nothing that the sender typed comes in, since a <see cref="PublicFinding"/> holds none
/// of it.</summary>
public static class FindingWords
{
    /// <summary>The words of each pattern of the schema, which is no language of people's.</summary>
    private static readonly Dictionary<string, string> KeyOfPattern = new()
    {
        ["[A-Za-z0-9][A-Za-z0-9._:-]*"] = "rule.pattern.id",
        ["[A-Z]{2}"] = "rule.pattern.country",
    };

    /// <summary>Codes whose sentences hold numbers and no words of the sender.</summary>
    private static readonly HashSet<string> HaveNumbers =
    [
        FindingCode.MassTenfold, FindingCode.SignMissing, FindingCode.LostYetWeighed, FindingCode.CoordinatesSwapped,
        FindingCode.WeighingsSwapped, FindingCode.MassUnlikely,
    ];

    /// <summary>Where to look: table, rows, column; or the mapping, rows, field; or where the contribution says what it is, row,
    /// entry.</summary>
    public static string Where(PublicFinding finding, string? rows, Phrases words) => string.Join(", ", new[]
    {
        finding.Part switch
        {
            FindingPart.Table => words.Say("waiting.table", finding.Table!.Name),
            FindingPart.Mapping => words["waiting.mapping"],
            FindingPart.Descriptor => words["waiting.descriptor"],
            FindingPart.PackageSheet => words["waiting.package-sheet"],
            _ => words["waiting.contribution"],
        },
        rows,
        finding.Field is { } field ? words.Say("waiting.field", field)
            : finding.Column is { } column ? words.Say("waiting.column", column.Name) : null,
        finding.Place is { } place ? words.Say("waiting.entry", place.Text[1..]) : null,
    }.OfType<string>());

    /// <summary>The same for those who filled in a kit, who see sheets with headings and no table of the schema.</summary>
    public static string WhereInKit(PublicFinding finding, string? rows, Phrases words)
    {
        bool isOfPlaces = finding.Table?.Name == SchemaCatalogue.Sites.Name;
        IReadOnlyList<KitColumn> columns = finding.Table is null ? KitForm.AboutLines
            : isOfPlaces ? KitForm.PlaceColumns : KitForm.HoleColumns;
        string field = finding.Column?.Name ?? finding.Place?.Text[1..] ?? "";
        string[] headings = [.. columns.Where(column => finding.OfKit is { } one ? column == one : column.Field == field)
            .Select(column => words["kit.column." + column.Key])];
        return string.Join(", ", new[]
        {
            words.Say("answer.sheet", words["kit.sheet." + (finding.Table is null ? KitForm.About
                : isOfPlaces ? KitForm.Places : KitForm.Holes)]),
            rows,
            headings.Length == 0 ? null : words.Say("waiting.column", string.Join(" / ", headings)),
        }.OfType<string>());
    }

    /// <summary>The rows of a table as people name them; null where none is named.</summary>
    public static string? Rows(IEnumerable<int?> named, Phrases words)
    {
        int[] rows = [.. named.OfType<int>().Distinct()];
        return rows.Length switch
        {
            0 => null,
            1 => words.Say("waiting.row", rows[0].ToString(CultureInfo.InvariantCulture)),
            _ => words.Say("waiting.rows", FindingGroup.Stretches(rows)),
        };
    }

    /// <summary>Where the number of a version is raised: who sent no kit has no sheet of one.</summary>
    public static string VersionIn(ContributionFormat? format, Phrases words) => format == ContributionFormat.Kit
        ? words.Say("waiting.version.kit", words["kit.sheet." + KitForm.About])
        : words.Say("waiting.version.other", words["drop.mends"], format switch
        {
            ContributionFormat.Workbook => words["waiting.package-sheet"],
            ContributionFormat.WideTable => words["waiting.mapping"],
            _ => SchemaCatalogue.DescriptorName,
        });

    public static string Expected(PublicFinding finding, Phrases words) =>
        // of a kit people see the sheet, and no column of the schema
        finding.Column is { } column && !finding.Code.StartsWith("kit-", StringComparison.Ordinal)
            ? words.Say("rule.of", Clause(finding, words), column.Name, Rule(column, words))
        : words[$"finding.{finding.Code}"];

    /// <summary>What was expected without its full stop, where something follows.</summary>
    public static string Clause(PublicFinding finding, Phrases words) => words[$"finding.{finding.Code}"].TrimEnd('.');

    public static string ToDo(PublicFinding finding, Phrases words) =>
        words.Say($"finding.{finding.Code}.mend" + (finding is { Code: FindingCode.NotANumber, Column.IsCoordinate: true }
            ? ".degrees" : ""), words["kit.sheet." + KitForm.About]);

    /// <summary>One finding in one line, without its full stop.</summary>
    public static string Line(PublicFinding finding, Phrases words) =>
        Where(finding, finding.Row is { } row ? words.Say("waiting.row", row) : null, words) + words.Colon
            + Expected(finding, words).TrimEnd('.');

    /// <summary>What was found, for the sender, whose own words it may hold.</summary>
    public static string Found(Finding finding, Phrases words)
    {
        if (HaveNumbers.Contains(finding.Code) && !finding.IsTranslated)
            return Local(finding.Found, words);
        if (finding.Code == FindingCode.CampaignDays && words.Code != "en")
            return words.WithDays(finding.Found);
        if (IsSaid(finding, words) || IsQuotation(finding.Found))
            return Unnamed(finding.Found, words);
        string? said = EnglishSentences.In(words, "found", finding.Found);
        return Unnamed(said ?? (IsReceived(finding.Found) ? finding.Found : words["found.other"]), words);
    }

    /// <summary>What was expected, for the sender.</summary>
    public static string Expected(Finding finding, Phrases words) => IsSaid(finding, words) ? finding.Expected
        : EnglishSentences.In(words, "expected", Local(finding, words))
            ?? (PublicFinding.Of(finding) is { } known
                ? Small(finding.IsToldOfKit ? Clause(known, words) : Expected(known, words), words) : finding.Expected);

    /// <summary>What to do about it, as a sentence, for the sender.</summary>
    public static string ToDo(Finding finding, Phrases words)
    {
        if (!IsSaid(finding, words) && PublicFinding.Of(finding) is { } known)
        {
            return EnglishSentences.In(words, "mend", HaveNumbers.Contains(finding.Code) ? Local(finding.Mend, words) : finding.Mend)
                ?? ToDo(known, words);
        }
        return char.ToUpper(finding.Mend[0], CultureInfo.InvariantCulture) + finding.Mend[1..].TrimEnd('.') + ".";
    }

    /// <summary>Why a table cannot be read, in the words of its sender.</summary>
    public static Inquiry Said(Inquiry inquiry, Phrases words) => inquiry with { Findings = Said(inquiry.Findings, words) };

    public static IReadOnlyList<Finding> Said(IReadOnlyList<Finding> findings, Phrases words) =>
    [
        .. findings.Select(finding => IsSaid(finding, words) ? finding : finding with
        {
            Found = Found(finding, words),
            Expected = Expected(finding, words),
            Mend = ToDo(finding, words),
            IsTranslated = true,
        }),
    ];

    /// <summary>A finding as it is in one line: where, found, expected, what to do.</summary>
    public static string Sentence(Finding finding, Phrases words) => new FindingGroup([finding]).Line(words);

    // numbers as the language writes them; a name holds what it holds
    private static string Local(Finding finding, Phrases words) => finding.Expected is var text
        && finding.Code == FindingCode.CampaignDays ? words.WithDays(text)
        : (finding.Code is not (FindingCode.KitTyped or FindingCode.ThousandsRead or FindingCode.MassTenfold
            or FindingCode.MassUnlikely)
            || text.Contains('\'', StringComparison.Ordinal)) ? text
        : words.WithDays(Local(text, words)).Replace("; ", words.Colon.Replace(':', ';'), StringComparison.Ordinal);

    private static string Local(string text, Phrases words) => string.Concat(text.Select((c, i) =>
        c == '.' && i > 0 && char.IsAsciiDigit(text[i - 1]) ? words["number.decimal"] : c.ToString()));

    // within a sentence; in German that depends on the first word, in the others none is a noun
    private static string Small(string text, Phrases words)
    {
        string small = words["finding.small"];
        return small == "…" || small.Split(' ').Contains(text.Split(' ')[0], StringComparer.Ordinal)
            ? char.ToLowerInvariant(text[0]) + text[1..] : text;
    }

    private static bool IsSaid(Finding finding, Phrases words) => finding.IsTranslated || words.Code == "en";

    // all of it what somebody wrote
    private static bool IsQuotation(string found) => found is ['\'', .., '\''] && found.AsSpan(1, found.Length - 2).IndexOf('\'') < 0;

    // ids and numbers have no spaces, sentences of ours have
    private static bool IsReceived(string found) => !found.Contains(' ', StringComparison.Ordinal) || found is ['\'', .., '\''];

    private static string Unnamed(string found, Phrases words) => words.Code == "en" ? found
        : found.Replace("(an e-mail address)", $"({words["found.email"]})", StringComparison.Ordinal)
            .Replace("(a telephone number)", $"({words["found.telephone"]})", StringComparison.Ordinal);

    /// <summary>What a column takes, as the schema has it.</summary>
    public static string Rule(FieldSchema column, Phrases words)
    {
        string rule = column switch
        {
            { AllowedValues.Count: > 0 } => words.Say("rule.one-of", string.Join(", ", column.AllowedValues)),
            { Type: FieldType.Number } => words["rule.number"],
            { Type: FieldType.WholeNumber } => words["rule.whole-number"],
            { Type: FieldType.YesNo } => words["rule.yes-no"],
            { Type: FieldType.Date } => words["rule.date"],
            _ => words["rule.text"],
        };
        if (column.PatternText is { } pattern)
            rule += words.Say(KeyOfPattern[pattern], column.Example);
        rule += (column.Minimum, column.Maximum) switch
        {
            ({ } low, { } high) => words.Say("rule.between", Digits(low), Digits(high)),
            ({ } low, null) => words.Say("rule.least", Digits(low)),
            (null, { } high) => words.Say("rule.most", Digits(high)),
            _ => "",
        };
        if (column.Unit is not (null or "1"))
            rule += words.FindText("rule.in." + column.Unit) ?? words.Say("rule.unit", column.Unit);
        if (column.EarliestDate is { } day)
            rule += words.Say("rule.earliest", words.Day(day));
        if (column.MaxLength is { } longest)
            rule += words.Say("rule.longest", longest);
        return rule;

        // without signs between thousands, which no table may have
        string Digits(double number) => words.Written(number.ToString(CultureInfo.InvariantCulture));
    }
}
