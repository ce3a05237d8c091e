namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Columns that are named by the lots of the campaign file, and of which litter they are is said by it.</summary>
public class LotsAsNames
{
    private static readonly Campaign Campaign = AskedSheet.Campaign with
    {
        Lots =
        [
            AskedSheet.Lot("Alder-24", "fast", "0.8", "0.4", "2"), AskedSheet.Lot("Alder-25", "fast", "0.8", "0.4", "2"),
            AskedSheet.Lot("Reed-3", "slow", "0.55", "0.4", "2.2"),
        ],
        Words = new Dictionary<string, string> { ["Schilf"] = "slow", ["Erle"] = "fast" },
    };

    private static string Table(string fast, string slow) => $"Hole,Place,Lat,Long,{fast} before (g),{fast} after (g),{slow} before (g),"
        + $"{slow} after (g),Buried,Dug up\n1,meadow,48.1,9.2,2.41,1.41,2.61,2.06,2025-05-14,2025-08-12\n"
        + "2,meadow,48.1,9.2,2.43,1.38,2.62,2.01,2025-05-14,2025-08-12\n";

    // the campaign has two fast lots, and the name says which
    [Theory]
    [InlineData("Alder-24", "Reed-3")]
    [InlineData("ALDER 24", "reed 3:")]
    [InlineData("lot Alder-24", "lot Reed-3")]
    public void A_column_under_the_id_of_a_lot_is_of_its_litter(string fast, string slow)
    {
        Inquiry inquiry = AskedSheet.Ask(Table(fast, slow), Campaign, []);
        Assert.Empty(inquiry.Ids());
        ContributionTables rows = AskedSheet.Read(AskedSheet.FileOf(Table(fast, slow)), inquiry.Mapping!).SoundRows!;
        Assert.Equal([("Alder-24", LitterRole.Fast, 2.41, 1.41), ("Alder-24", LitterRole.Fast, 2.43, 1.38),
            ("Reed-3", LitterRole.Slow, 2.61, 2.06), ("Reed-3", LitterRole.Slow, 2.62, 2.01)],
            rows.Bags.Select(bag => (bag.LotId, bag.Role, bag.MassInitialGrams!.Value, bag.MassFinalGrams!.Value)).Order());
    }

    // which of the two fast lots it is nobody says
    [Theory]
    [InlineData("Alder", "Reed")]
    [InlineData("Erle", "Schilf")]
    public void The_word_of_a_lot_or_one_of_the_campaign_says_the_litter_and_the_lot_is_asked(string fast, string slow) =>
        Assert.Equal(["lot:fast"], AskedSheet.Ask(Table(fast, slow), Campaign, []).Ids());
}
