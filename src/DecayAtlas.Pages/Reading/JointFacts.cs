namespace DecayAtlas.Pages.Reading;

/// <summary>The map of k and S together: where its classes are cut, and what ground they take of that to which both models
/// apply.</summary>
/// <param name="Folder">Where its files lie.</param>
/// <param name="Correlation">Of predicted ln k and S; missing where either is the same everywhere.</param>
public sealed record JointFacts(
    string Folder, double CutRatePerDay, double CutHalfLifeDays, double CutStabilisation, double? Correlation,
    double ApplicableSquareKilometres, double ToldSquareKilometres, IReadOnlyList<JointClassFacts> Classes);

/// <param name="Name">As files spell it, as fast-little-left.</param>
/// <param name="ToldSquareKilometres">Of its area, where both intervals lie on one side of the cuts.</param>
public sealed record JointClassFacts(int Code, string Name, double SquareKilometres, double ToldSquareKilometres);
