namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Remarks that tell of one of the two bags of a row, and bags that were not found again.</summary>
public class LostBags
{
    // the third hole has roots in its slow bag, the fourth lost it
    private static string Table(string heading, string roots, string lost) =>
        "Ort;Loch;vergraben;ausgegraben;Breite;Länge;schnell vorher (g);"
        + $"schnell nachher (g);langsam vorher (g);langsam nachher (g);{heading}\n"
        + "Hecke;1;14.05.2025;07.08.2025;49,1310;11,5720;2,40;1,30;2,60;2,00;\n"
        + "Hecke;2;14.05.2025;07.08.2025;49,1310;11,5720;2,41;1,31;2,61;2,01;\n"
        + $"Hecke;3;14.05.2025;07.08.2025;49,1310;11,5720;2,42;1,32;2,62;2,02;{roots}\n"
        + $"Hecke;4;14.05.2025;07.08.2025;49,1310;11,5720;2,43;1,33;2,63;;{lost}\n";

    private static ReadResult Read(string table, params (string Id, string Value)[] answers) =>
        AskedSheet.Read(System.Text.Encoding.UTF8.GetBytes(table), "table.csv", "de", answers);

    [Theory]
    [InlineData("Notas", "raíces dentro de la lenta", "perdida la lenta")]
    [InlineData("Bemerkung", "Wurzeln in der langsamen", "langsamer Beutel verloren")]
    [InlineData("Remarques", "racines dans la lente", "sachet lent introuvable")]
    [InlineData("Remarks", "roots in the slow one", "slow one not found")]
    [InlineData("Remarks", "roots in the slow one", "lost")]
    public void A_remark_on_one_bag_of_a_row_is_told_of_that_bag_in_the_column_of_the_sender(string heading, string roots, string lost)
    {
        ReadResult read = Read(Table(heading, roots, lost));

        Assert.Equal(["3 Slow Roots", "4 Slow Lost"], read.SoundRows!.Bags.Where(bag => bag.Condition is not null)
            .Select(bag => $"{bag.BurialId} {bag.Role} {bag.Condition}").Order(StringComparer.Ordinal));
        Finding told = Assert.Single(read.Warnings, warning => warning.Row == 4);
        Assert.Equal(("damaged-bag", heading, "bags.condition"), (told.Code, told.Column, told.Field));
        CheckReport check = new("table.csv", read, Example.Today);
        Assert.Equal(["bag-lost"], check.Burials.Select(burial => burial.RateMissingBecause).OfType<string>());
    }

    /// <summary>Weg is away in German, and a path.</summary>
    [Theory]
    [InlineData("langsamer weg, Hund?")]
    [InlineData("weg")]
    public void A_word_that_may_mean_lost_is_asked_where_a_bag_was_not_weighed_again(string remark)
    {
        string table = Table("Bemerkung", "", remark);
        Question question = Assert.Single(AskedSheet.Of(table, "de").Questions);
        Assert.Equal(("unweighed:" + remark, "lost"), (question.Id, question.Suggested));

        Assert.Equal("4 Slow", Assert.Single(Read(table, (question.Id, "lost")).SoundRows!.Bags, bag => bag.Condition is BagCondition.Lost)
            is { } bag ? $"{bag.BurialId} {bag.Role}" : "");
        Assert.DoesNotContain(Read(table, (question.Id, "-")).SoundRows!.Bags, bag => bag.Condition is not null);
    }
}
