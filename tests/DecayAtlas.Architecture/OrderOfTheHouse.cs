using ArchUnitNET.Domain;
using ArchUnitNET.Loader;

namespace DecayAtlas.Architecture;

/// <summary>Who may refer to whom: a room sees those that stand above it in the list, which is read from the ground up.</summary>
public class OrderOfTheHouse
{
    /// <summary>The assemblies, and the folders of each; "." is the root of an assembly. A folder that is not named here is
    /// refused.</summary>
    private static readonly (string Assembly, string Folders)[] House =
    [
        ("Text", ". Letters Documents Languages"),
        ("Storage", "."),
        ("Decomposition", ". Burials Outliers Uncertainty Means Variance Mixed.Equations Mixed Plans Curves Spatial Warmth Sensitivity"),
        ("Figures", "Drawing Charts"),
        ("Grids", ". Projections Layout Remote Reading Exposure Sampling Polygons"
            + " Formats.Ascii Formats.Cdf Formats.Cf Formats.TiffReading Formats.GeoTiff Formats.NetCdf.Writing Formats.NetCdf Formats"
            + " Catalogue Inspection"),
        ("Contributions", ". Findings Words Vocabularies Vocabularies.Remarks Schema Places Packages Tables Tables.Warnings Campaigns"
            + " Workbooks Sheets Layout.Natures Layout.Blocks Layout Wide Kits Reading Understanding Questioning.Columns Questioning.Bags"
            + " Questioning.Cells Questioning.Masses Questioning.Means Questioning.Sides Judging Questioning.Rates Questioning Reports"
            + " Sending Receiving"),
        ("Atlas", ". Records Schema Vocabularies Covariates Results Noted Answers Tables Mapped Releases Described Exports Changes"),
        ("Prediction", ". Training Limits Models Candidates Validation Understanding Cards Trained Lattices Pictures Maps Regions Joint"
            + " Siting"),
        ("Pages", "Html Reading Reading.Ground Contributed Texts . Charts Scripts Checking Site Groups"),
        ("Kit", "Groups FillIn Printing ."),
        ("Questions", "Answers Slopes Plans Released Charts Sensitivity Predictions Siting Series"),
        ("Serving", "Hosting Answers Guarding Features Predicting Following Api Positions Health Releases ."),
        ("Pipeline", "Cache Flags Steps CrossCheck Configuration Contributors Stages Mails Runs ."),
        ("Demo", ". World Truth Campaigns Output Faults Scenarios Scoring"),
        ("Cli", "Commands Reporting Reporting.Slopes Commands.Answering Commands.Contributing Commands.Exporting Commands.GridFiles"
            + " Commands.Nights Commands.Predicting Completion ."),
    ];

    private static readonly ArchUnitNET.Domain.Architecture Loaded =
        new ArchLoader().LoadAssemblies([.. House.Select(h => System.Reflection.Assembly.Load(NameOf(h.Assembly)))]).Build();

    /// <summary>Every room by its namespace, with its place in the order.</summary>
    private static readonly Dictionary<string, int> PlaceOf = House
        .SelectMany(h => h.Folders.Split(' ').Select(f => f == "." ? $"DecayAtlas.{h.Assembly}" : $"DecayAtlas.{h.Assembly}.{f}"))
        .Index().ToDictionary(x => x.Item, x => x.Index);

    [Fact]
    public void Every_room_has_a_place_in_the_order() => Assert.Equal(
        PlaceOf.Keys.Order(StringComparer.Ordinal),
        Loaded.Types.Select(t => t.Namespace?.FullName ?? "").Where(n => n.StartsWith("DecayAtlas.", StringComparison.Ordinal)).Distinct()
            .Order(StringComparer.Ordinal));

    [Fact]
    public void A_room_refers_to_rooms_below_it_only() => None(
        from arrow in Arrows()
        where PlaceOf[arrow.To] > PlaceOf[arrow.From]
        group arrow.Example by $"{arrow.From} refers to {arrow.To}, which stands above it" into turned
        orderby turned.Key
        select $"{turned.Key}: {string.Join(", ", turned.Distinct().Order(StringComparer.Ordinal).Take(5))}");

    /// <summary>Invented data can't be reached from production code, and the server needs no night.</summary>
    [Fact]
    public void The_demo_is_known_to_the_commands_only_and_the_night_and_the_server_do_not_know_each_other() => None(
        from arrow in Arrows()
        let user = AssemblyOf(arrow.From)
        let used = AssemblyOf(arrow.To)
        where (used == "Demo" && user is not ("Demo" or "Cli")) || (user, used) is ("Serving", "Pipeline") or ("Pipeline", "Serving")
        select $"{user} refers to {used}: {arrow.Example}");

    [Fact]
    public void A_type_name_stands_for_one_thing() => None(
        from type in OwnTypes()
        where !type.FullName.Contains('+') && !type.Name.Contains('<')
        group type.FullName by type.Name.Split('`')[0] into name
        let parts = name.Distinct().Order(StringComparer.Ordinal).ToArray()
        where parts.Select(p => p.Split('`')[0]).Distinct().Count() > 1
        select string.Join(" and ", parts));

    private static IEnumerable<(string From, string To, string Example)> Arrows() =>
        from type in OwnTypes()
        from target in type.Dependencies.Select(d => d.Target).Distinct()
        where target.Namespace is { } room && room.FullName != type.Namespace.FullName && PlaceOf.ContainsKey(room.FullName)
        select (type.Namespace.FullName, target.Namespace.FullName, $"{type.Name} -> {target.Name}");

    private static IEnumerable<IType> OwnTypes() =>
        Loaded.Types.Where(t => t.Namespace is { } room && PlaceOf.ContainsKey(room.FullName));

    private static string AssemblyOf(string room) => room.Split('.')[1];

    private static string NameOf(string assembly) => assembly == "Cli" ? "decayatlas" : $"DecayAtlas.{assembly}";

    private static void None(IEnumerable<string> faults)
    {
        string all = string.Join('\n', faults);
        Assert.True(all.Length == 0, all);
    }
}
