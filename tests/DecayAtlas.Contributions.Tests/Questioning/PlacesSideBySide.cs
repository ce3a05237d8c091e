namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Two places beside each other in one row of a repetition, under two or three rows of names in any order of the three: each row
/// becomes two burials.</summary>
public class PlacesSideBySide
{
    private const string Below = "\n\nMeadow: 48.12 N 9.21 E; buried 14 May 2025; dug up 12 August 2025\n"
        + "Wood: 48.22 N 9.31 E; buried 15 May 2025; dug up 13 August 2025\n";

    private static readonly string[] Truth =
    [
        "Meadow F 2.41 1.41", "Meadow F 2.43 1.38", "Meadow F 2.45 1.44", "Meadow S 2.61 2.06", "Meadow S 2.62 2.01", "Meadow S 2.64 2.11",
        "Wood F 2.42 1.22", "Wood F 2.46 1.27", "Wood F 2.47 1.31", "Wood S 2.63 1.99", "Wood S 2.65 1.93", "Wood S 2.66 1.97",
    ];

    [Theory]
    [InlineData("Rep;Meadow;;;;Wood;;;\n;fast;;slow;;fast;;slow;\n;start;end;start;end;start;end;start;end\n", false)]
    [InlineData("Rep;Meadow;;;;Wood;;;\n;fast start;fast end;slow start;slow end;fast start;fast end;slow start;slow end\n", false)]
    [InlineData("Rep;fast;;;;slow;;;\n;Meadow;;Wood;;Meadow;;Wood;\n;start;end;start;end;start;end;start;end\n", true)]
    public void Each_place_has_rows_of_its_own(string names, bool isByLitter)
    {
        string[] rows = isByLitter
            ? ["1;2.41;1.41;2.42;1.22;2.61;2.06;2.63;1.99", "2;2.43;1.38;2.46;1.27;2.62;2.01;2.65;1.93",
                "3;2.45;1.44;2.47;1.31;2.64;2.11;2.66;1.97"]
            : ["1;2.41;1.41;2.61;2.06;2.42;1.22;2.63;1.99", "2;2.43;1.38;2.62;2.01;2.46;1.27;2.65;1.93",
                "3;2.45;1.44;2.64;2.11;2.47;1.31;2.66;1.97"];
        string table = names + string.Join('\n', rows) + Below.Replace(';', ',');
        Assert.Equal(["lines"], AskedSheet.Ask(table).Ids());
        Assert.Equal(Truth, AskedSheet.Read(table, ("lines", "yes")).Select(bag => FormattableString.Invariant(
            $"{bag.SiteId} {bag.LotId} {bag.MassInitialGrams:0.00} {bag.MassFinalGrams:0.00}")).Order(StringComparer.Ordinal));
    }

    // two treatments of one place are no places
    [Fact]
    public void Treatments_beside_each_other_are_told_as_such()
    {
        Campaign campaign = AskedSheet.Campaign with { Treatments = ["mown", "unmown"] };
        string table = "Rep;mown;;;;unmown;;;\n;fast;;slow;;fast;;slow;\n;start;end;start;end;start;end;start;end\n"
            + "1;2.41;1.41;2.61;2.06;2.42;1.22;2.63;1.99\n2;2.43;1.38;2.62;2.01;2.46;1.27;2.65;1.93\n"
            + "3;2.45;1.44;2.64;2.11;2.47;1.31;2.66;1.97\n\n48.12 N 9.21 E, buried 14 May 2025, dug up 12 August 2025\n";
        string mapping = AskedSheet.Ask(table, campaign, [("lines", "yes")]).Mapping!;
        IReadOnlyList<BagRow> bags = AskedSheet.Read(AskedSheet.FileOf(table), mapping).SoundRows!.Bags;
        Assert.Equal(["mown", "mown", "mown", "unmown", "unmown", "unmown"],
            bags.Where(bag => bag.Role == LitterRole.Fast).Select(bag => bag.Treatment!).Order(StringComparer.Ordinal));
        Assert.Single(bags.Select(bag => bag.SiteId).Distinct());
    }

    // bag, before, after and tare of each litter are no places
    [Fact]
    public void Groups_of_one_litter_each_stay_beside_each_other()
    {
        const string Table = "Hole;Place;Lat;Long;Buried;Dug up;Fast;;;Slow;;\n;;;;;;Bag;before;after;Bag;before;after\n"
            + "1;meadow;48.1;9.2;2025-05-14;2025-08-12;A1;2.41;1.41;B1;2.61;2.06\n"
            + "2;meadow;48.1;9.2;2025-05-14;2025-08-12;A2;2.43;1.38;B2;2.62;2.01\n";
        Assert.DoesNotContain("layout-groups-beside", AskedSheet.Told(AskedSheet.Ask(Table)));
    }
}
