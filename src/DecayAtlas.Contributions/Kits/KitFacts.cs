using System.Globalization;

namespace DecayAtlas.Contributions.Kits;

/// <summary>What the sheet for the program says.</summary>
/// <param name="Language">BCP 47 code of the sheets for people; empty in kits that did not say it yet.</param>
/// <param name="Names">Of the sheets for people, by key.</param>
/// <param name="Headings">Of their columns, by sheet and key.</param>
/// <param name="Examples">First cells of rows that are no data.</param>
/// <param name="Words">By field (or <see cref="KitForm.AnyField"/>) and word of the sheet.</param>
internal sealed record KitFacts(
    string Version,
    string Language,
    Dictionary<string, string> Names,
    Dictionary<(string Sheet, string Key), string> Headings,
    HashSet<string> Examples,
    Dictionary<string, string> Package,
    List<Dictionary<string, string>> Lots,
    Dictionary<string, string> Sites,
    Dictionary<string, string> Bags,
    Dictionary<(string Field, string Word), string> Words)
{
    private Dictionary<string, DayRange?> Days { get; } = [];

    /// <summary>The days of the campaign; null in kits that did not say them yet. They are what the group was asked for, so that none
    /// beside them is passed over.</summary>
    public ExpectedDays? Expected => Days.Count == 0 ? null
        : new ExpectedDays(Days.GetValueOrDefault(KitForm.Bury), Days.GetValueOrDefault(KitForm.DigUp)) { SlackDays = 0 };

    private static DayRange? DaysOf(string from, string to) =>
        DateOnly.TryParseExact(from, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly first)
        && DateOnly.TryParseExact(to, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly last)
            ? new DayRange(first, last) : null;

    /// <summary>Words as the sheet offers them, by field and word of the schema.</summary>
    private Dictionary<(string Field, string Word), string> Offered { get; } = [];

    /// <summary>Words of the schema by field and <see cref="Spelling"/> of a word of the sheet; empty where two are spelt alike.</summary>
    private Dictionary<(string Field, string Spelling), string> Spelt { get; } = [];

    public static KitFacts Read(Sheet sheet)
    {
        KitFacts facts = new("", "", [], [], [], [], [], [], [], []);
        foreach (SheetRow row in sheet.Rows)
        {
            (string first, string second, string third) = (row[1].Text, row[2].Text, row[3].Text);
            switch (row[0].Text)
            {
                case KitForm.OfVersion:
                    facts = facts with { Version = first };
                    break;
                case KitForm.OfLanguage:
                    facts = facts with { Language = first };
                    break;
                case KitForm.OfDays:
                    facts.Days[first] = DaysOf(second, third);
                    break;
                case KitForm.OfSheet:
                    facts.Names[first] = second;
                    break;
                case KitForm.OfColumn:
                    facts.Headings[(first, second)] = third;
                    break;
                case KitForm.OfExample:
                    facts.Examples.Add(second);
                    break;
                case KitForm.OfPackage:
                    facts.Package[first] = second;
                    break;
                case KitForm.OfLot:
                    if (second == "lot_id")
                        facts.Lots.Add([]);
                    if (facts.Lots.Count > 0)
                        facts.Lots[^1][second] = third;
                    break;
                case KitForm.OfSites:
                    facts.Sites[first] = second;
                    break;
                case KitForm.OfBags:
                    facts.Bags[first] = second;
                    break;
                case KitForm.OfWord:
                    facts.Words[(first, second.ToUpperInvariant())] = third;
                    facts.Offered.TryAdd((first, third), second);
                    if (!facts.Spelt.TryAdd((first, Spelling(second)), third) && facts.Spelt[(first, Spelling(second))] != third)
                        facts.Spelt[(first, Spelling(second))] = "";
                    break;
            }
        }

        return facts;
    }

    /// <summary>The word of the sheet for one of the schema; the word itself where the sheet offers none.</summary>
    public string WordFor(string field, string word) => Offered.GetValueOrDefault((field, word), word);

    /// <summary>The word of the schema for one of the sheet, capitals and accents aside; the word itself where there is none.</summary>
    public string Word(string field, string word)
    {
        string asked = word.Trim().ToUpperInvariant();
        return Words.GetValueOrDefault((field, asked)) ?? Words.GetValueOrDefault((KitForm.AnyField, asked))
            ?? Spelt.GetValueOrDefault((field, Spelling(word))) switch { { Length: > 0 } alike => alike, _ => word };
    }

    /// <summary>The words that the sheet offers for a field.</summary>
    public IReadOnlyList<string> WordsOf(string field) =>
        [.. Offered.Where(offer => offer.Key.Field == field).Select(offer => offer.Value)];

    /// <summary>The word of the sheet that comes closest to another; null where none is close.</summary>
    /// <param name="words">Of the sheet's language, which know what else people call it; null where there are none.</param>
    public string? NearestWord(string field, string word, Phrases? words)
    {
        string asked = Spelling(word);
        (string Ours, string Shown)[] offers =
            [.. Offered.Where(offer => offer.Key.Field == field).Select(offer => (offer.Key.Word, offer.Value))];
        if (Array.Find(offers, offer => (words?.FindText($"kit.like.{field}.{offer.Ours}") ?? "").Split(',')
            .Any(like => Spelling(like) == asked)) is (_, { } called))
        {
            return called;
        }
        if (Nearest.Of(word, offers.Select(offer => offer.Shown)) is { } near)
            return near;
        // jardín of jardín o huerto, Wiese of Mähwiese; two letters are in many words
        return asked.Length < LeastOfAWord ? null
            : Array.Find(offers, offer => Spelling(offer.Shown).Contains(asked, StringComparison.Ordinal)).Shown;
    }

    private const int LeastOfAWord = 4;

    /// <summary>What a name is told by, capitals, accents and the signs between words aside; ä is ae or a.</summary>
    public static string Spelling(string text) => WordSpelling.Plain(Identifier.Folded(text))
        .Replace("ae", "a", StringComparison.Ordinal)
        .Replace("oe", "o", StringComparison.Ordinal).Replace("ue", "u", StringComparison.Ordinal);
}
