using System.Text;

namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>What was lost or is left as a share, beside a first mass and without one. Truth by hand: bags of 0.4 g, of 2.00 g of the fast
/// litter 50 % are left and of 2.20 g of the slow 75 %, so 1.40 g and 2.05 g with the bag.</summary>
public class SharesOfBags
{
    private const string Days = "2025-05-14;2025-08-12";

    private static string Table(string fast, string slow, string cells) =>
        $"Hole;Place;Lat;Long;{fast};{slow};Buried;Dug up\n1;meadow;48.1;9.2;{cells};{Days}\n2;meadow;48.1;9.2;{cells};{Days}\n";

    [Theory]
    [InlineData("schnell: Verlust %", "langsam: Verlust %", "50", "25")]
    [InlineData("fast: mass loss (%)", "slow: mass loss (%)", "50", "25")]
    [InlineData("rápida: pérdida (%)", "lenta: pérdida (%)", "50", "25")]
    [InlineData("rapide : perte de masse (%)", "lente : perte de masse (%)", "50", "25")]
    [InlineData("fast remaining %", "slow remaining %", "50", "75")]
    [InlineData("fast restante %", "slow restante %", "50,0 %", "75,0 %")]
    public void Beside_a_first_mass_a_share_becomes_the_last_one(string fast, string slow, string ofFast, string ofSlow)
    {
        string table = Table($"fast before (g);{fast}", $"slow before (g);{slow}", $"2.40;{ofFast};2.60;{ofSlow}");
        Assert.Equal(["share-of"], AskedSheet.Ask(table).Ids());
        Assert.Equal([(LitterRole.Fast, 1.40), (LitterRole.Fast, 1.40), (LitterRole.Slow, 2.05), (LitterRole.Slow, 2.05)],
            AskedSheet.Read(table, ("share-of", "litter")).Select(bag => (bag.Role, Math.Round(bag.MassFinalGrams!.Value, 9))).Order());
    }

    [Theory]
    [InlineData("schnell Verlust %", "langsam Verlust %", "50;25")]
    [InlineData("fast left (%)", "slow left (%)", "50;75")]
    public void Without_any_mass_each_row_is_one_burial_of_which_the_shares_are_known(string fast, string slow, string cells)
    {
        string table = Table(fast, slow, cells);
        (string, string)[] answers = [("share-of", "litter")];
        Assert.Contains("results-shares", AskedSheet.Told(AskedSheet.Ask(table)));
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(table), "table.csv", "en", answers);
        Assert.Empty(read.Findings);
        Assert.Equal([(1, 0.5, 0.75), (1, 0.5, 0.75)], read.SoundRows!.Results.Select(row => (row.Burials, row.FastRemainingMean!.Value,
            row.SlowRemainingMean!.Value)));
        Assert.All(read.SoundRows.Results, row => Assert.Null(row.FastRemainingSd));
        Assert.Empty(read.Warnings);
    }

    [Theory]
    [InlineData("loss", 0.5, 0.75)]
    [InlineData("remaining", 0.5, 0.25)]
    public void Per_cent_that_say_neither_lost_nor_left_are_asked_about(string kind, double ofFast, double ofSlow)
    {
        string table = Table("fast %", "slow %", "50;25");
        Assert.Equal(["share-kind", "share-of"], AskedSheet.Ask(table).Ids());
        ResultRow row = AskedSheet.Read(Encoding.UTF8.GetBytes(table), "table.csv", "en", ("share-kind", kind), ("share-of", "litter"))
            .SoundRows!.Results[0];
        Assert.Equal((ofFast, ofSlow), (row.FastRemainingMean!.Value, row.SlowRemainingMean!.Value));
    }

    [Fact]
    public void A_share_of_litter_and_bag_without_the_mass_before_is_refused_in_one_sentence()
    {
        Inquiry inquiry = AskedSheet.Ask(Table("fast left (%)", "slow left (%)", "50;75"), ("share-of", "all"));
        Assert.Contains("without the first masses", Assert.Single(inquiry.Findings).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Rows_of_one_bag_are_paired_by_their_hole()
    {
        string table = "Hole;Place;Lat;Long;Litter;loss %;Buried;Dug up\n" + string.Concat(new[] { 1, 2 }.Select(hole =>
            $"{hole};meadow;48.1;9.2;fast;50;{Days}\n{hole};meadow;48.1;9.2;slow;25;{Days}\n"));
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(table), "table.csv", "en", ("share-of", "litter"));
        Assert.Equal([(1, 0.5, 0.75), (1, 0.5, 0.75)], read.SoundRows!.Results.Select(row => (row.Burials, row.FastRemainingMean!.Value,
            row.SlowRemainingMean!.Value)));
    }

    // whoever has computed k and S of shares sends these
    [Fact]
    public void Shares_beside_k_and_S_do_not_go_before_them() => Assert.Contains("results-only", AskedSheet.Told(AskedSheet.Ask(
        $"Place;Lat;Long;n;fast left (%);slow left (%);k (per day);S;Buried;Dug up\nmeadow;48.1;9.2;5;50;75;0.012;0.3;{Days}\n"
        + $"wood;48.2;9.3;5;45;72;0.013;0.25;{Days}\n")));

    // of the fast litter alone S is known
    [Fact]
    public void A_table_of_one_litter_is_read_as_that()
    {
        string table = $"Hole;Place;Lat;Long;fast before (g);fast after (g);Buried;Dug up\n1;meadow;48.1;9.2;2.40;1.40;{Days}\n"
            + $"2;meadow;48.1;9.2;2.42;1.45;{Days}\n";
        Assert.Empty(AskedSheet.Ask(table).Ids());
        Assert.Equal([(LitterRole.Fast, "F", 1.40), (LitterRole.Fast, "F", 1.45)], AskedSheet.Read(table).Select(bag =>
            (bag.Role, bag.LotId, bag.MassFinalGrams!.Value)));
    }
}
