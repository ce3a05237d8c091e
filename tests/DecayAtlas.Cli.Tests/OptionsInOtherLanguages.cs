namespace DecayAtlas.Cli.Tests;

/// <summary>A wrong option of a command for senders is told in the language that stands beside it, in one sentence.</summary>
public sealed class OptionsInOtherLanguages : IDisposable
{
    private const string Chemistry = ", hydrolysable_basis: dry, hydrolysable_parts: all-soluble";

    private readonly string _table = Path.Combine(Path.GetTempPath(), $"decayatlas-{Guid.NewGuid():N}.csv");

    public OptionsInOtherLanguages() => File.WriteAllText(_table, "Beutel;leer\n1;2\n");

    public void Dispose() => File.Delete(_table);

    // what of a lot the campaign file leaves out no group can know
    [Theory]
    [InlineData("", "", "de", "Marl-1, Marl-2: Es fehlen hydrolysable_basis und hydrolysable_parts,")]
    [InlineData(Chemistry, "", "fr", "Marl-2\u00a0: il manque hydrolysable_basis et hydrolysable_parts,")]
    [InlineData("", Chemistry, "es", "Marl-1: faltan hydrolysable_basis y hydrolysable_parts,")]
    [InlineData(", hydrolysable_basis: dry", Chemistry, null, "Marl-1: expected hydrolysable_basis and hydrolysable_parts,")]
    [InlineData(Chemistry, Chemistry, "de", null)]
    public void A_kit_warns_of_lots_whose_chemistry_is_half_said(string fast, string slow, string? language, string? warned)
    {
        string folder = Directory.CreateTempSubdirectory("decayatlas-kit-").FullName, file = Path.Combine(folder, "c.yaml");
        File.WriteAllText(file, $$"""
            version: 1
            campaign: hollow-2024
            protocol: hollow-pairs-1
            lots:
              - { lot_id: Marl-1, role: fast, hydrolysable_fraction: 0.7, hydrolysable_fraction_sd: 0.02{{fast}} }
              - { lot_id: Marl-2, role: slow, hydrolysable_fraction: 0.5, hydrolysable_fraction_sd: 0.02{{slow}} }
            bags: { mass_basis: litter, drying_initial: oven, drying: oven }
            groups: [{ id: hollow-school }]
            """);
        (StringWriter output, StringWriter error) = (new(), new());

        int code = CommandLine.Run(["kit", file, "--output", folder, .. language is null ? [] : new[] { "--language", language }],
            output, error);
        Directory.Delete(folder, recursive: true);

        Assert.Equal((0, ""), (code, error.ToString()));
        if (warned is null)
            Assert.DoesNotContain("hydrolysable", output.ToString(), StringComparison.Ordinal);
        else
            Assert.Contains(warned, output.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Unter nirgends.xlsx gibt es keinen Beitrag; berichtigt den Pfad.", "check", "nirgends.xlsx", "--language", "de")]
    [InlineData("Il n’y a pas de tableau à l’emplacement nulle.csv\u202f; corrigez le chemin.",
        "map-columns", "nulle.csv", "--language", "fr")]
    [InlineData("No hay ningún archivo de campaña en nada.yaml; corrija la ruta.", "kit", "nada.yaml", "--language", "es")]
    [InlineData("--report b.doc: Ein Bericht ist eine .md- oder eine .html-Datei; gebt ihm eine dieser Endungen.",
        "check", "TABLE", "--report", "b.doc", "--language", "de")]
    [InlineData("--separator dot: se espera uno de comma, semicolon, tab, bar.",
        "map-columns", "TABLE", "--separator", "dot", "--language", "es")]
    [InlineData("--header-row 0: Erwartet wird eine ganze Zahl von 1 bis 1000.",
        "map-columns", "TABLE", "--header-row", "0", "--language", "de")]
    [InlineData("--revision 10000\u00a0: un nombre entier de 1 à 9999 est attendu.",
        "map-columns", "TABLE", "--revision", "10000", "--language", "fr")]
    [InlineData("--answer dmy: Erwartet wird das Kürzel einer Frage, = und die Antwort, wie date-order=dmy.",
        "map-columns", "TABLE", "--answer", "dmy", "--language", "de")]
    [InlineData("--answer farbe=rot: Nach etwas dieses Namens wird nicht gefragt.",
        "map-columns", "TABLE", "--answer", "farbe=rot", "--language", "de")]
    // where the language is none, English is the one that remains
    [InlineData("--language it: expected one of de, en, es, fr.", "check", "TABLE", "--language", "it")]
    public void A_wrong_option_is_told_in_the_language_that_was_asked_for(string sentence, params string[] args)
    {
        (StringWriter output, StringWriter error) = (new(), new());

        int code = CommandLine.Run([.. args.Select(arg => arg == "TABLE" ? _table : arg)], output, error);

        Assert.Equal(2, code);
        Assert.Equal(sentence, error.ToString().TrimEnd());
    }
}
