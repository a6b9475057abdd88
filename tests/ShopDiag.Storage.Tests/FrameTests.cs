namespace ShopDiag.Storage.Tests;

public sealed class FrameTests
{
    [Fact]
    public void The_test_project_runs() => Assert.True(true);
}
