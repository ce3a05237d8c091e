namespace DecayAtlas.Browser;

/// <summary>Code runs slowly in a browser the first time. While somebody looks for a file, one burial of nobody's is checked, so that the
/// file itself takes a third of the time.</summary>
internal static class WarmUp
{
    private const string Folder = "/warm-up";

    private static readonly (string Name, string Text)[] Files =
    [
        ("datapackage.json", """
            {"profile":"decayatlas-contribution-1","name":"nobody","licenses":[{"name":"CC-BY-4.0"}],"contributor":"nobody","campaign":"none",
            "protocol":"none","resources":[{"name":"sites","path":"sites.csv"},{"name":"lots","path":"lots.csv"},{"name":"bags","path":"bags.csv"}]}
            """),
        ("sites.csv", "site_id,decimal_latitude,decimal_longitude\nn,47.1,8.2\n"),
        ("lots.csv", "lot_id,role,hydrolysable_fraction,hydrolysable_fraction_sd,tare_g\nf,fast,0.8,0.02,0.3\ns,slow,0.55,0.02,0.3\n"),
        ("bags.csv", "bag_id,burial_id,site_id,lot_id,role,mass_initial_g,mass_final_g,mass_basis,buried_on,retrieved_on\n"
            + "1,b,n,f,fast,2.3,1.0,gross,2024-05-01,2024-08-01\n2,b,n,s,slow,2.3,2.0,gross,2024-05-01,x\n"),
    ];

    private static CheckReport? _check;

    public static void Read()
    {
        Directory.CreateDirectory(Folder);
        foreach ((string name, string text) in Files)
            File.WriteAllText(Path.Combine(Folder, name), text);
        _check = new CheckReport("nobody", ContributionReader.Read(Folder, IntakeLimits.Default), new DateOnly(2024, 9, 1));
        _ = CheckAnswer.Json(Folder, _check);
    }

    /// <summary>After <see cref="Read"/>.</summary>
    public static void View()
    {
        _ = CheckView.Json(Folder, null, IntakeLimits.Default, _check!, SenderWords.Find("en")!);
        Directory.Delete(Folder, recursive: true);
        _check = null;
    }

    public static void Draw() => _ = LandInView.Of(new ViewBox(47, 8, 48, 9));
}
