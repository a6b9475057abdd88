namespace ShopDiag.Diagnosis.Tests;

public sealed class BenchTestFilesTests
{
    [Fact]
    public void Loads() => Assert.NotEmpty(ShopDiag.Diagnosis.Knowledge.Shipped.Tests);
}
