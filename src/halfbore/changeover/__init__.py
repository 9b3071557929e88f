"""How a bearing is changed, both ways: tasks, crews, three clocks, exposure."""
