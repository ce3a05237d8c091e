namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Rows that only show how a table is filled in.</summary>
public class RowsForShow
{
    private static string Table(string hole, string note, string noteOfSlow) =>
        "Hole,Place,Lat,Long,Litter,Before (g),After (g),Buried,Dug up,Notes\n"
        + $"{hole},meadow,48.1,9.2,fast,2.40,1.30,2025-05-14,2025-08-12,\"{note}\"\n"
        + $"{hole},meadow,48.1,9.2,slow,2.60,2.00,2025-05-14,2025-08-12,\"{noteOfSlow}\"\n"
        + string.Concat(Enumerable.Range(1, 3).SelectMany(n => AskedSheet.Bags($"{n}", $"2.5{n},1.4{n}", $"2.7{n},2.1{n}").Split('\n')
            .Where(line => line.Length > 0).Select(line => line + ",\n")));

    [Theory]
    [InlineData("0", "example row, please delete", "")]
    [InlineData("0", "example row, please delete", "example row, please delete")]
    [InlineData("0", "sample row", "sample row")]
    [InlineData("0", "exemple à effacer", "exemple à effacer")]
    [InlineData("0", "Beispielzeile", "Beispielzeile")]
    [InlineData("0", "fila de muestra, borrar", "")]
    [InlineData("e.g. 1", "", "")]
    [InlineData("z.B. 1", "", "")]
    [InlineData("0 (ejemplo)", "", "")]
    public void What_says_so_is_left_out_with_the_other_bag_of_its_hole_and_told(string hole, string note, string noteOfSlow)
    {
        string table = Table(hole, note, noteOfSlow);
        Inquiry inquiry = AskedSheet.Ask(table);
        Assert.Empty(inquiry.Ids());
        Assert.Equal(2, inquiry.Told.Single(told => told.Code == "example-rows").Count);
        Assert.Equal(["1", "2", "3"], AskedSheet.Read(table).Select(bag => bag.BurialId).Distinct());
    }

    [Theory]
    [InlineData("TEST", "")]
    [InlineData("0", "sample")]
    [InlineData("0", "Probe")]
    public void A_word_that_may_be_one_of_the_trade_is_asked_about(string hole, string note)
    {
        string table = Table(hole, note, note);
        Assert.Equal(["example-rows"], AskedSheet.Ask(table).Ids());
        Assert.Equal(6, AskedSheet.Read(table, ("example-rows", "leave")).Count);
        Assert.Equal(8, AskedSheet.Read(table, ("example-rows", "read")).Count);
    }

    [Theory]
    [InlineData("sample 1", "")]
    [InlineData("4", "roots, for example, and sand")]
    [InlineData("4", "test ground of the school")]
    public void Samples_and_remarks_that_give_an_example_are_bags(string hole, string note)
    {
        string table = Table(hole, note, note);
        if (hole.StartsWith("sample", StringComparison.Ordinal))
        {
            table = string.Join('\n', table.Split('\n').Select(line => line.Length > 0 && char.IsAsciiDigit(line[0])
                ? $"sample {(char)(line[0] + 1)}{line[1..]}" : line));
        }
        Assert.Empty(AskedSheet.Ask(table).Ids());
        Assert.Equal(8, AskedSheet.Read(table).Count);
    }
}
