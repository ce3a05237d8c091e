using System.Text;

namespace DecayAtlas.Pipeline.Tests;

/// <summary>What a flag found is said with its numbers or, where it has none, by a sentence that each language has. The sentences below are
/// written by hand, as a group would read them in English.</summary>
public class SentencesOfFlags
{
    private static readonly (string Code, string Sentence)[] WithoutNumbers =
    [
        ("ash-of-one-bag", "The ash of the fast bag alone is known."), ("ash-of-one-bag", "The ash of the slow bag alone is known."),
        ("bag-damaged", "The bag came up torn."), ("bag-damaged", "Roots had grown into the bag."),
        ("bag-lost", "The bag was not found again."),
        ("bag-repeated", "Same site, lot, dates and masses as bag H1A of contribution c1."),
        ("balance-unstated", "The resolution of the balance was not sent."),
        ("chemistry-basis-unstated", "Lot F-1 does not say what its hydrolysable fraction is made of."),
        ("chemistry-incomplete", "The non-polar extractives of lot F-1 are not known."),
        ("chemistry-incomplete", "The hydrolysable fraction of lot F-1 is ash-free, and its ash is not known."),
        ("burial-again", "Place, day of burying and first masses are those of burial H1 of contribution c1."),
        ("coordinates-swapped", "Latitude 11.2, longitude 47.3; exchanged they would fit AT."),
        ("coordinates-swapped", "Numbers withheld: the site is marked sensitive."),
        ("coordinates-unstated", "The coordinate uncertainty was not sent."),
        ("country-unknown", "No outline for XX."),
        ("drying-not-oven", "The litter was air-dried."), ("drying-not-oven", "The litter was freeze-dried."),
        ("final-water-unstated", "How the litter was dried was not sent."),
        ("initial-water-unstated", "What was done to the litter before the first weighing was not sent."),
        ("initial-water-unstated", "The litter was air-dried before the first weighing, and its moisture was not sent."),
        ("initial-water-unstated", "The litter was weighed as supplied, and the moisture of lot F-1 was not sent."),
        ("initial-water-unstated", "What water did to the k and S of the group is not known, and is in none of their errors."),
        ("initial-water-unstated", "What the masses behind the fractions were was not sent."),
        ("initial-water-unstated", "The litter was weighed moist, and the lots do not say how moist it was supplied."),
        ("masses-repeated", "All four masses are those of burial H1 of contribution c1 at site meadow."),
        ("not-dried", "The litter was not dried."),
        ("pair-dates-differ", "The fast bag lay from 2024-05-01 to 2024-08-01, the slow bag from 2024-05-02 to 2024-08-01."),
        ("pair-dates-differ", "The fast bag lay from 2024-05-01 to an unknown day, the slow bag from 2024-05-02 to 2024-08-01."),
        ("pair-dates-differ", "The fast bag lay from 2024-05-01 to 2024-08-01, the slow bag from 2024-05-02 to an unknown day."),
        ("pair-plots-differ", "The fast bag lay in plot P-1, treatment –; the slow bag in plot P-2, treatment mown."),
        ("result-error-missing", "No scatter between the burials was sent with the mean, or not what it is."),
        ("result-lot-missing", "A lot of the litter is not named."),
        ("result-method-other", "k was computed by the method single-exponential."), ("result-method-other", "The method is not named."),
        ("result-not-harmonised", "k and S were kept as sent."),
        ("result-rate-not-positive", "The mean k is not above 0."),
        ("result-without-rate", "There is no k: mass-not-reported."),
        ("role-differs-from-lot", "The bag is fast, lot S-1 is slow."), ("role-differs-from-lot", "The bag is slow, lot F-1 is fast."),
        ("role-differs-from-lot", "Lot S-1 is named for the fast litter and is slow."),
        ("role-differs-from-lot", "Lot F-1 is named for the slow litter and is fast."),
        ("slow-loss-at-plateau", "The means lie at the plateau of the slow litter."),
        ("tare-missing", "The masses include the bag, and lot F-1 gives no tare."),
        ("unused-material-no", "The litter had been used before."),
    ];

    // words that are put between the letters of a sentence
    private static readonly string[] FilledIn = ["fast", "slow", "an unknown day", "plot "];

    public static TheoryData<string> Languages => new(Language.Known);

    // a new flag comes into the one list or the other
    [Theory, MemberData(nameof(Languages))]
    public void Every_flag_has_a_sentence_or_a_name_for_its_number_in_every_language(string language)
    {
        Language words = Language.Find(language)!;
        HashSet<string> withoutNumbers = [.. WithoutNumbers.Select(one => one.Code)], codes = [.. FlagCatalogue.All.Select(f => f.Code)];

        Assert.Empty(withoutNumbers.Except(codes));
        Assert.All(codes, code => Assert.NotEqual(code, words.FindText($"flag.{code}.title") ?? code));
        if (words.IsTranslation)
        {
            Assert.All(codes.Where(code => !withoutNumbers.Contains(code)), code => Assert.NotNull(words.FindText($"flag.{code}.quantity")));
            Assert.Empty(words.All.Keys.Where(key => key.StartsWith("flag.", StringComparison.Ordinal)).Select(key => key.Split('.')[1])
                .Except(codes));
        }
        Assert.All(WithoutNumbers, one =>
        {
            string? said = EnglishSentences.In(words, "flagged", one.Sentence);
            Assert.NotNull(said);
            Assert.Equal(words.IsTranslation, said != one.Sentence && said != one.Sentence.Replace("mass-not-reported", "…",
                StringComparison.Ordinal));
            Assert.DoesNotContain("{", said, StringComparison.Ordinal);
        });
    }

    [Fact]
    public void No_sentence_stands_there_for_which_there_is_no_flag()
    {
        Dictionary<string, string> known = SenderWords.In("en")!.Where(text => text.Key.StartsWith("flagged.", StringComparison.Ordinal))
            .ToDictionary(text => text.Key, text => text.Value);
        string[] used = [.. WithoutNumbers.Select(one => known.MaxBy(text => Fits(text.Value, one.Sentence)).Key)];

        Assert.Empty(known.Keys.Except(used));

        // What the program can say lies in it as the letters of its texts (ECMA-335, II.24.2.4: the heap of user strings is UTF-16).
        string program = Encoding.Unicode.GetString(File.ReadAllBytes(typeof(FlagCatalogue).Assembly.Location)),
            shifted = Encoding.Unicode.GetString(File.ReadAllBytes(typeof(FlagCatalogue).Assembly.Location)[1..]);
        Assert.All(known.Values.SelectMany(Fixed).SelectMany(piece => piece.Split(FilledIn, StringSplitOptions.None))
            .Where(piece => piece.Length > 3), piece => Assert.True(
                program.Contains(piece, StringComparison.Ordinal) || shifted.Contains(piece, StringComparison.Ordinal), piece));
    }

    private static IEnumerable<string> Fixed(string text) => text.Split('{', '}', '…').Where(piece => piece.Length > 3);

    // letters of the fixed pieces where all of them stand in the sentence in their order, else none
    private static int Fits(string text, string sentence)
    {
        int at = 0, letters = 0;
        foreach (string piece in Fixed(text))
        {
            int found = sentence.IndexOf(piece, at, StringComparison.Ordinal);
            if (found < 0)
                return -1;
            at = found + piece.Length;
            letters += piece.Length;
        }
        return letters;
    }
}
